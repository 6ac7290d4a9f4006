//! What comes from a phone: once, in its order, and never dropped.

mod late;
mod once;
mod photos;
pub mod stage;
mod units;
