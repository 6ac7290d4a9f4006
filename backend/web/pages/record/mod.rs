//! Giving answers: a whole unit's, one fixture's, or one check a screen, and the page that says what came of them.
//!
//! What is asked is fixed when the page is rendered: each question carries the client id under which its answer will be kept, so a form
//! that is sent twice records once. [`sheet`] lays questions out in the order of a walk, [`answers`] reads them back.

pub mod answers;
pub mod done;
pub mod fixture;
pub mod leak_points;
mod one;
mod page;
pub mod questions;
pub mod refusals;
pub mod sheet;
pub mod unit;
