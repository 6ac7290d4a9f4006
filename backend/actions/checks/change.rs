//! Changes a check of the users' own, as a new version.

use super::{find, hold, managers_only, subject};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::trade::{Check, CheckText, Origin};
use crate::error::{Error, Result};
use crate::store::{Db, audit, checks, due};

/// Changes a check; `version` is the one that the form showed. Its code stays.
///
/// # Errors
/// When it is built in, somebody changed it meanwhile, a field can't be used, or there is no such check.
pub fn change(db: &Db, actor: &Actor, now: Now, code: &str, version: u32, text: &CheckText) -> Result<()> {
    managers_only(actor)?;
    db.write(|tx| {
        let stored = find(tx, code)?;
        if stored.origin == Origin::Builtin {
            return Err(Error::refused(format!(
                "Check {code} is built in and is kept up to date by us. Copy it and change the copy."
            )));
        }
        let before = &stored.check;
        if before.version != version {
            return Err(Error::Conflict(format!(
                "Check {code} was changed by somebody else meanwhile. Open it again, then change it."
            )));
        }
        let after = text.read(Some(before)).map_err(Error::Fields)?;
        hold(&after)?;
        let unchanged = Check {
            version: before.version,
            ..after.clone()
        };
        if unchanged == **before {
            return Ok(());
        }
        checks::update(tx, now, stored.id, &after)?;
        audit::note(
            tx,
            actor,
            now,
            "change_check",
            subject(stored.id),
            &**before,
            &after,
        )?;
        if is_asked_otherwise(before, &after) {
            due::mark_stale(tx)?;
        }
        Ok(())
    })?;
    due::begin_renewal(db)
}

/// Whether it is asked of other things than before.
fn is_asked_otherwise(before: &Check, after: &Check) -> bool {
    before.kinds != after.kinds || before.parts != after.parts || before.conditions != after.conditions
}
