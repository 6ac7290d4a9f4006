//! What pages and mails read: joins over aggregates, one file a list.

pub mod digest;
