//! The calendar of a building: its working days, its public holidays and shut-down periods, and giving it to other buildings.

pub mod close;
pub mod give;
pub mod open;
pub mod show;
pub mod week;
