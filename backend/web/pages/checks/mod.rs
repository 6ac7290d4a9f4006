//! Checks: the catalogue by kind of fixture, one with its method and sources, adding, changing and copying one's own, withdrawing.

pub mod copy;
pub mod edit;
mod form;
pub mod list;
pub mod new;
pub mod offer;
pub mod show;
pub mod values;
mod words;
