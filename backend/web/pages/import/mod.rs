//! A fleet as a file: chosen, looked at, confirmed; and written out again.

pub mod choose;
pub mod confirm;
pub mod export;
pub mod problems;
