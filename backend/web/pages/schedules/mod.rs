//! Schedules: by pack with their rules in words, one with its next dates, adding, changing, copying, switching. Managers alone.

pub mod copy;
pub mod edit;
mod form;
mod impact;
pub mod list;
pub mod new;
pub mod pack;
mod said;
pub mod show;
pub mod switch;
pub mod undo;
mod words;
