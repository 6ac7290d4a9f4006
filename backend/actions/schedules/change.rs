//! Changes a schedule, a built-in one too: what the catalogue brought is the office's from then on.

use super::{Words, by, find, managers_only, snapshot, subject};
use crate::clock::Now;
use crate::domain::due::ScheduleText;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, audit, due, schedules};

/// Changes a schedule; `version` is the one that the form showed.
///
/// # Errors
/// A sentence for each field that can't be used, that somebody changed it meanwhile, or that there is no such schedule.
pub fn change(db: &Db, actor: &Actor, now: Now, code: &str, version: u32, text: &ScheduleText) -> Result<()> {
    managers_only(actor)?;
    db.write(|tx| {
        let mut before = find(tx, code)?;
        let words = Words::load(tx)?;
        let terms = text.read(&words.known(), Some(&before)).map_err(Error::Fields)?;
        if terms == before.terms {
            return Ok(());
        }
        let was = snapshot(&before.terms);
        let asked = before.terms.active || terms.active;
        before.version = version;
        schedules::update(tx, &before, &terms, by(actor, now))?;
        audit::note(
            tx,
            actor,
            now,
            "change_schedule",
            subject(before.id),
            &was,
            &snapshot(&terms),
        )?;
        if asked {
            due::mark_stale(tx)?;
        }
        Ok(())
    })?;
    due::renew_stale(db)
}
