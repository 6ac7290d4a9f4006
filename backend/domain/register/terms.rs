//! What holds in one building instead of the office's own: what water costs, which times to correct. Decides nothing.

use crate::domain::trade::water::Tariff;

/// The terms of a building.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BuildingTerms {
    /// What water costs; none when nobody gave a price.
    pub tariff: Option<Tariff>,
    /// Code of the programme of times to correct; empty for the office's own choice.
    pub programme: String,
}
