//! Sets the working days of a building.

use super::change;
use crate::clock::Now;
use crate::domain::due::read_working_days;
use crate::domain::register::BuildingId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, calendars};

/// Sets them; `codes` are MO to SU.
///
/// # Errors
/// A sentence when none is chosen, or that there is no such building.
pub fn set_week(db: &Db, actor: &Actor, now: Now, building: BuildingId, codes: &[String]) -> Result<usize> {
    let days = read_working_days(codes.iter().map(String::as_str)).map_err(Error::Fields)?;
    change(db, actor, now, building, |tx| {
        calendars::set_working_days(tx, building, days)
    })
}
