//! Visits by hand: the list, planning one, one with what it serves, "I am in this unit now", and closing.

pub mod cancel;
pub mod done;
pub mod list;
pub mod new;
pub mod no_access;
pub mod now;
pub mod selection;
pub mod show;
mod work;
