//! Units and common areas: one unit with its rooms, adding, changing, and the order of the walk.

pub mod edit;
pub mod form;
pub mod new;
pub mod rooms;
pub mod show;
pub mod words;
