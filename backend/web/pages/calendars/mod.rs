//! The calendar of a building: its working days, its public holidays and shut-down periods, and giving it to other buildings.

pub mod close;
mod closing;
pub mod edit;
pub mod give;
pub mod open;
pub mod show;
pub mod week;

use crate::domain::register::Building;
use crate::language;

/// How many due dates of the building moved by a change, in a sentence.
fn moved_in_words(moved: usize) -> String {
    match moved {
        0 => "No due date moved.".to_owned(),
        _ => format!("{} moved.", language::count(moved, "due date", "due dates")),
    }
}

/// The address of a building's calendar.
fn home(building: &Building) -> String {
    format!("/buildings/{}/calendar", building.facts.code)
}
