//! What to do first, and whom to call: for anybody, before any form and without signing in.

pub mod edit;
pub mod show;
