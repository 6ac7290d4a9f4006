//! Turnovers on both databases: the checklist, the steps and what keeps them back, the signed record, the pages, the command line.

mod checklist;
mod export;
mod paper;
mod phones;
mod prove;
mod record;
pub mod stage;
mod steps;
