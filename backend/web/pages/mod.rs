//! The pages: one folder an area, one file an action; each file holds its view struct and its handlers.

pub mod deficiencies;
pub mod mail;
pub mod missing;
pub mod record;
pub mod session;
pub mod start;
pub mod urgent;
pub mod buildings;
pub mod fixtures;
pub mod households;
pub mod mail;
pub mod missing;
pub mod parts;
pub mod portfolios;
pub mod session;
pub mod start;
pub mod units;
