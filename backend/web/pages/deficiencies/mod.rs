//! Deficiencies: the list by deadline, one with its history and what can be done to it, a resident's report, the times to correct.

pub mod assign;
pub mod csv;
mod events;
pub mod list;
pub mod note;
pub mod one;
pub mod recheck;
pub mod repaired;
pub mod report;
pub mod times;
pub mod words;
