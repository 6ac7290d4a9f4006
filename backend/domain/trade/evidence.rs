//! What was measured beyond one reading, as it is kept with a result: a clearance, a flush test, leak points. Decides that each says
//! itself in words years later, without asking today's catalogue.

use serde::{Deserialize, Serialize};

use super::{clearance, flush, leak_point};

/// What was measured.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "measured", rename_all = "snake_case")]
pub enum Detail {
    /// The clearances of a water closet.
    Clearance(clearance::Taken),
    /// A run of flushes.
    Flush(flush::Taken),
    /// Leak points.
    Leaks(leak_point::Seen),
}

impl Detail {
    /// What was measured, in phrases.
    #[must_use]
    pub fn phrases(&self) -> Vec<String> {
        match self {
            Self::Clearance(taken) => taken.phrases(),
            Self::Flush(taken) => taken.phrases(),
            Self::Leaks(seen) => seen.phrases(),
        }
    }
}
