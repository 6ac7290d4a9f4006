//! What was mailed, and what waits.

pub mod list;
pub mod message;
