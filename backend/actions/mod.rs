//! What can be done, one use case a file: authorise, load, ask the domain, write, audit, enqueue, in one transaction each.
//!
//! An action is a function `(db, actor, now, command) -> Result<answer>`. It blocks; pages call it off their workers. Ids, instants
//! and mails come in as values or are made before the transaction opens.

pub mod arrivals;
pub mod calendars;
pub mod checks;
pub mod condition;
pub mod contacts;
pub mod deficiencies;
pub mod demo;
pub mod diagnose;
pub mod digest;
pub mod export;
pub mod import_fleet;
pub mod labels;
pub mod measures;
pub mod office;
pub mod people;
pub mod phone;
pub mod register;
pub mod results;
pub mod schedules;
pub mod setup;
pub mod stage_import;
pub mod turnovers;
pub mod urgent;
pub mod visits;
pub mod water;
