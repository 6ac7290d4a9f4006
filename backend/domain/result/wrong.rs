//! Something that stands as deficient, as far as a drawing needs it. Decides nothing.

use super::Deficiency;
use crate::domain::register::{DeficiencyId, TagId};
use crate::domain::trade::PartKind;

/// Something that stands as deficient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong {
    /// Its number.
    pub id: DeficiencyId,
    /// At which place.
    pub tag: Option<TagId>,
    /// At which part.
    pub part: Option<PartKind>,
    /// Code of the check that found it; empty for a report.
    pub check: String,
}

impl Wrong {
    /// A deficiency with the code of the check that found it.
    #[must_use]
    pub fn of(one: &Deficiency, check: impl Into<String>) -> Self {
        Self {
            id: one.id,
            tag: one.tag,
            part: one.part,
            check: check.into(),
        }
    }
}
