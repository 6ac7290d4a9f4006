//! Changes a public holiday or a shut-down period of a building.

use super::{change, refuse_twice};
use crate::clock::Now;
use crate::domain::due::ClosingText;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, ClosingId};
use crate::error::{Error, Result};
use crate::store::{Db, calendars};

/// Changes it to what was typed; the due rows of the building follow. Answers with how many due dates moved.
///
/// # Errors
/// A sentence for each field that can't be used, that the same is there already, that the building has no such closed days, or that
/// there is no such building.
pub fn change_closing(
    db: &Db,
    actor: &Actor,
    now: Now,
    building: BuildingId,
    closing: ClosingId,
    text: &ClosingText,
) -> Result<usize> {
    let wanted = text.read().map_err(Error::Fields)?;
    change(db, actor, now, building, |tx| {
        calendars::closing_of(tx, building, closing)?;
        let known = calendars::closings_of(tx, building)?;
        let others = known.iter().filter(|(id, _)| *id != closing);
        refuse_twice(others.map(|(_, other)| other), &wanted)?;
        calendars::change(tx, building, closing, &wanted)
    })
}
