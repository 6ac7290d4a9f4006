//! What a phone and the server say to each other, version 1: the checklists fetched ahead, a batch of what was done, and its answer.
//! Decides how each thing is written; what it means is decided elsewhere.

pub mod instant;
pub mod measures;
pub mod signature;
pub mod sync;
pub mod units;

/// The version of everything here. A phone keeps what it has not sent for as long as it takes, so a batch of this version is taken for at
/// least 90 days after there is a next one.
pub const VERSION: u32 = 1;
