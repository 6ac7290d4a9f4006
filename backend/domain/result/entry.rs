//! A result as it is kept: what somebody saw, when it was done and when it was received. Append-only; decides nothing.

use chrono::{NaiveDate, NaiveDateTime};
use uuid::Uuid;

use super::answer::Outcome;
use crate::domain::register::{BuildingId, CheckId, FixtureId, PersonId, TagId, TurnoverId, UnitId, VisitId};
use crate::domain::trade::{PartKind, TurnoverStage};

/// A result, complete but for its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Made by whoever recorded it; a repeat changes nothing.
    pub client_id: Uuid,
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// At which place.
    pub tag: TagId,
    /// What stood there then.
    pub fixture: FixtureId,
    /// Which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// The procedure as it was asked.
    pub check_version: i64,
    /// How it came out.
    pub outcome: Outcome,
    /// Why it failed or was not checked; empty for a pass.
    pub reason: String,
    /// As typed; empty for a verdict.
    pub reading: String,
    /// Free text.
    pub note: String,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// The building's local date then.
    pub done_on: NaiveDate,
    /// UTC, the server's time.
    pub received_at: NaiveDateTime,
    /// Who saw it; none for the command line or an import.
    pub person: Option<PersonId>,
    /// Recorded in which turnover, for which of its stages.
    pub turnover: Option<(TurnoverId, TurnoverStage)>,
    /// Recorded on which visit.
    pub visit: Option<VisitId>,
    /// What the check asked, its limits and their sources, in one line as they were then.
    pub asked: String,
    /// JSON of what was measured beyond one reading; empty when nothing was.
    pub detail: String,
}

/// The turn of a result among those of one place: the later done counts. What two phones did in the same instant goes by their client
/// ids, which are made in the order of time (UUID version 7), so that it does not matter which arrived first. Other ids say nothing of
/// time: such results stand before, in the order in which they were recorded.
pub type Turn = (NaiveDateTime, Option<Uuid>);

/// The turn of a result that was done at an instant under a client id.
#[must_use]
pub fn turn(done_at: NaiveDateTime, client_id: Uuid) -> Turn {
    let is_ordered = client_id.get_version_num() == 7;
    (done_at, is_ordered.then_some(client_id))
}

impl Entry {
    /// Its turn.
    #[must_use]
    pub fn turn(&self) -> Turn {
        turn(self.done_at, self.client_id)
    }
}
