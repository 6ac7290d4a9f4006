//! Changes a schedule, a built-in one too: what the catalogue brought is the office's from then on.

use super::{Words, find, managers_only, replace};
use crate::clock::Now;
use crate::domain::due::ScheduleText;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, due};

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
        before.version = version;
        replace(tx, actor, now, &before, &terms, "change_schedule")
    })?;
    due::begin_renewal(db)
}
