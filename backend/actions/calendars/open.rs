//! Takes a public holiday or a shut-down period away from a building.

use super::change;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, ClosingId};
use crate::error::{Error, Result};
use crate::store::{Db, calendars};

/// Takes it away.
///
/// # Errors
/// When it is not there, or there is no such building.
pub fn open(db: &Db, actor: &Actor, now: Now, building: BuildingId, closing: ClosingId) -> Result<()> {
    change(db, actor, now, building, |tx| {
        let known = calendars::closings_of(tx, building)?;
        if !known.iter().any(|(id, _)| *id == closing) {
            return Err(Error::not_found("such closed days"));
        }
        calendars::remove(tx, building, closing)
    })
}
