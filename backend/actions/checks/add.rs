//! Adds a check of the users' own.

use super::{hold, managers_only, subject};
use crate::clock::Now;
use crate::domain::field::FieldError;
use crate::domain::register::CheckId;
use crate::domain::register::person::Actor;
use crate::domain::trade::{CheckText, Origin};
use crate::error::{Error, Result};
use crate::store::{Db, audit, checks};

/// Adds a check. Nothing asks for it until a schedule or a turnover names it.
///
/// # Errors
/// A sentence for each field that can't be used, or that the code is taken.
pub fn add(db: &Db, actor: &Actor, now: Now, text: &CheckText) -> Result<CheckId> {
    managers_only(actor)?;
    let check = text.read(None).map_err(Error::Fields)?;
    hold(&check)?;
    db.write(|tx| {
        if checks::by_code(tx, check.code.as_str())?.is_some() {
            return Err(taken(check.code.as_str()));
        }
        let id = checks::insert(tx, now, Origin::Own, &check)?;
        audit::note(tx, actor, now, "add_check", subject(id), &(), &check)?;
        Ok(id)
    })
}

/// The refusal of a code that another check has.
pub(super) fn taken(code: &str) -> Error {
    Error::Fields(vec![FieldError::new(
        "code",
        format!("Check {code} is there already. Choose another code."),
    )])
}
