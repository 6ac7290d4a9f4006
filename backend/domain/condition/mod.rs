//! What the records say of a fixture, a building or a portfolio on a day: a word, a score, a share and an index, each by a stated rule.
//! Says nothing that nobody recorded; knows no database and no page.

pub mod index;
pub mod score;
pub mod share;
mod word;

pub use word::{Condition, OnRecord, Open, condition};
