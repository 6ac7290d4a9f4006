//! Recording answers and what follows from them, on both databases: results, deficiencies, their pages and the command line.

mod command;
mod deficiencies;
mod pages;
mod rules;
pub mod stage;
mod zones;
