//! A figure of the catalogue that is no limit of a check: a flow that a code expects, a band that is usual. Decides that it carries its
//! unit and its source; what is compared with it is decided where it is used.

use serde::{Deserialize, Serialize};

use super::source::Source;
use crate::domain::measure::{Amount, MeasureError, Unit};

/// A value with its unit and where it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// Its code, unique among the figures.
    pub code: String,
    /// What it is, in a few words.
    pub name: String,
    /// The value with its unit, as the source prints it: "3 gpm".
    pub value: String,
    /// Where it comes from.
    pub source: Source,
}

impl Figure {
    /// The exact value; `unit` says what is measured.
    ///
    /// # Errors
    /// When the value measures something else.
    pub fn amount(&self, unit: Unit) -> Result<Amount, MeasureError> {
        Amount::parse(&self.value, unit)
    }
}
