//! Water: what a leak loses, what it costs where the building stands, and what choosing costs.

pub mod known;
pub mod measure;
pub mod office;
pub mod terms;

pub use known::{Instead, Sourced, known};
pub use measure::{Measure, measure};
pub use terms::{SetTerms, TermsText, set_terms};
