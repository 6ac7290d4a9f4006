//! Undoes the last change of a schedule: it says again what it said before; what was only added is switched off. An undoing is a change
//! like any other, so it can be undone.

use super::{find, managers_only, replace};
use crate::clock::Now;
use crate::domain::due::{Schedule, Terms};
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, due, schedules};

/// Whether a schedule of the office's own is on as it was added, so that the adding can be undone: it is switched off then, and asks for
/// nothing.
#[must_use]
pub fn is_as_added(schedule: &Schedule) -> bool {
    schedule.version == 1 && schedule.terms.pack.is_none() && schedule.terms.active
}

/// Undoes it; `version` is the one that the page showed. Answers with the schedule's code from then on.
///
/// # Errors
/// When there is no such schedule, it was never changed, or somebody changed it meanwhile.
pub fn undo(db: &Db, actor: &Actor, now: Now, code: &str, version: u32) -> Result<String> {
    managers_only(actor)?;
    let code = db.write(|tx| {
        let mut schedule = find(tx, code)?;
        let terms = match schedules::former(tx, schedule.id)? {
            Some(former) => former.schedule.terms,
            None if is_as_added(&schedule) => Terms {
                active: false,
                ..schedule.terms.clone()
            },
            None => {
                return Err(Error::refused(
                    "This schedule was never changed, so there is nothing to undo.",
                ));
            }
        };
        let taken = schedules::by_code(tx, &terms.code)?.is_some_and(|other| other.id != schedule.id);
        if taken {
            return Err(Error::refused(format!(
                "It was called {} before, and another schedule is called that now. Change it by hand instead.",
                terms.code
            )));
        }
        schedule.version = version;
        replace(tx, actor, now, &schedule, &terms, "undo_schedule_change")?;
        Ok(terms.code)
    })?;
    due::begin_renewal(db)?;
    Ok(code)
}
