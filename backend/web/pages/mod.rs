//! The pages: one folder an area, one file an action; each file holds its view struct and its handlers.

pub mod account;
pub mod buildings;
pub mod calendars;
pub mod checks;
pub mod condition;
pub mod deficiencies;
pub mod due;
pub mod fixtures;
pub mod households;
pub mod import;
pub mod labels;
pub mod mail;
pub mod missing;
pub mod parts;
pub mod people;
pub mod photo;
pub mod portfolios;
pub mod record;
pub mod schedules;
pub mod session;
pub mod start;
pub mod turnovers;
pub mod units;
pub mod urgent;
pub mod visits;
pub mod water;
