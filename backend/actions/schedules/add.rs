//! Adds a schedule of the office's own.

use super::{Words, managers_only, snapshot, subject};
use crate::clock::Now;
use crate::domain::due::ScheduleText;
use crate::domain::register::ScheduleId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, audit, due, schedules};

/// Adds a schedule; what it asks for comes due at once when it is active.
///
/// # Errors
/// A sentence for each field that can't be used; then nothing was stored.
pub fn add(db: &Db, actor: &Actor, now: Now, text: &ScheduleText) -> Result<ScheduleId> {
    managers_only(actor)?;
    let id = db.write(|tx| {
        let words = Words::load(tx)?;
        let terms = text.read(&words.known(), None).map_err(Error::Fields)?;
        let id = schedules::insert(tx, &terms)?;
        audit::note(
            tx,
            actor,
            now,
            "add_schedule",
            subject(id),
            &(),
            &snapshot(&terms),
        )?;
        if terms.active {
            due::mark_stale(tx)?;
        }
        Ok(id)
    })?;
    due::begin_renewal(db)?;
    Ok(id)
}
