//! What was found behind a symptom, as it was found. Append-only. Decides nothing.

use chrono::NaiveDateTime;

use crate::domain::register::{BuildingId, DeficiencyId, FixtureId, PersonId, TagId, UnitId};

/// A diagnosis as it is kept: the words as they were then, whatever the catalogue says later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnosis {
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// At which place.
    pub tag: TagId,
    /// What stood there then.
    pub fixture: FixtureId,
    /// The deficiency that it explains; none when none was named.
    pub deficiency: Option<DeficiencyId>,
    /// Code of the symptom.
    pub symptom: String,
    /// Questions and answers in words; the first is the symptom.
    pub said: Vec<(String, String)>,
    /// Code of the cause.
    pub cause: String,
    /// The cause in words.
    pub found: String,
    /// Free text.
    pub note: String,
    /// UTC.
    pub found_at: NaiveDateTime,
    /// Who found it; none for the command line.
    pub person: Option<PersonId>,
}
