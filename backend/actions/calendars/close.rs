//! Closes a building for planned work: a public holiday or a shut-down period.

use super::{change, refuse_twice};
use crate::clock::Now;
use crate::domain::due::ClosingText;
use crate::domain::register::BuildingId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, calendars};

/// Adds it to the calendar of the building. Answers with how many due dates moved.
///
/// # Errors
/// A sentence for each field that can't be used, that the same is there already, or that there is no such building.
pub fn close(db: &Db, actor: &Actor, now: Now, building: BuildingId, text: &ClosingText) -> Result<usize> {
    let closing = text.read().map_err(Error::Fields)?;
    change(db, actor, now, building, |tx| {
        let known = calendars::of_building(tx, building)?;
        refuse_twice(known.closings.iter(), &closing)?;
        calendars::add(tx, building, &closing)
    })
}
