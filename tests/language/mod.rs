//! The languages: every message exists in each, with the same things put in, and is said somewhere; each reads numbers and dates its way.

mod figures;
mod fixtures;
mod kept;
mod mail;
mod messages;
mod pages;
mod phone;
mod places;
mod sentences;
mod trade;
mod turnovers;
