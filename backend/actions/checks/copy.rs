//! Copies a check, built in or own, as one of the users' own.

use super::{add::taken, find, hold, managers_only, subject};
use crate::clock::Now;
use crate::domain::register::CheckId;
use crate::domain::register::person::Actor;
use crate::domain::trade::{Check, CheckCode, Origin};
use crate::error::{Error, Result};
use crate::store::{Db, audit, checks};

/// Copies a check under a new code. Schedules go on asking for the original.
///
/// # Errors
/// When there is no such check, or the new code can't be used or is taken.
pub fn copy(db: &Db, actor: &Actor, now: Now, code: &str, new_code: &str) -> Result<CheckId> {
    managers_only(actor)?;
    let new_code: CheckCode = new_code
        .trim()
        .parse()
        .map_err(|error| Error::field("code", format!("{error}.")))?;
    db.write(|tx| {
        let original = find(tx, code)?;
        if checks::by_code(tx, new_code.as_str())?.is_some() {
            return Err(taken(new_code.as_str()));
        }
        let check = Check {
            code: new_code.clone(),
            version: 1,
            ..(*original.check).clone()
        };
        hold(&check)?;
        let id = checks::insert(tx, now, Origin::Own, &check)?;
        audit::note(tx, actor, now, "copy_check", subject(id), &(), &check)?;
        Ok(id)
    })
}
