//! The calendar of a building: its working days, its public holidays and shut-down periods, and giving it to other buildings.

pub mod close;
mod closing;
pub mod edit;
pub mod give;
pub mod open;
pub mod show;
pub mod week;

use crate::domain::register::Building;

/// The address of a building's calendar.
fn home(building: &Building) -> String {
    format!("/buildings/{}/calendar", building.facts.code)
}
