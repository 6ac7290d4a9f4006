//! Takes a public holiday or a shut-down period away from a building.

use super::change;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, ClosingId};
use crate::error::Result;
use crate::store::{Db, calendars};

/// Takes it away.
///
/// # Errors
/// When it is not there, or there is no such building.
pub fn open(db: &Db, actor: &Actor, now: Now, building: BuildingId, closing: ClosingId) -> Result<usize> {
    change(db, actor, now, building, |tx| {
        calendars::closing_of(tx, building, closing)?;
        calendars::remove(tx, building, closing)
    })
}
