//! The pages: one folder an area, one file an action; each file holds its view struct and its handlers.

pub mod deficiencies;
pub mod mail;
pub mod missing;
pub mod record;
pub mod session;
pub mod start;
pub mod urgent;
