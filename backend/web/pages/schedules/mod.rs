//! Schedules: by pack with their rules in words, one with its next dates, adding, changing, copying, switching. Managers alone.

pub mod copy;
pub mod edit;
mod form;
pub mod list;
pub mod new;
pub mod pack;
pub mod show;
pub mod switch;
mod words;
