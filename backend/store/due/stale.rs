//! Whether due rows wait to be renewed, and how far that has come. It stands in the database, so that a process that stops midway, or
//! another one, goes on from there.

use uuid::Uuid;

use crate::error::{Error, Result};
use crate::store::{AnyConnection, Tx, settings};

/// The fixture after which rows are stale; empty or absent when none are.
const AFTER: &str = "due.stale_after_fixture";

/// Another one each time that rows become stale.
const SINCE: &str = "due.stale_mark";

/// "yes" while rows are out of use and not yet removed.
const UNSWEPT: &str = "due.unswept";

/// Notes that every due row may be wrong from now on, until [`renew_stale`](super::renew_stale) has run.
///
/// # Errors
/// When the database refuses.
pub fn mark_stale(tx: &mut Tx<'_>) -> Result<()> {
    if is_laying(stale_after(tx)?) {
        // What was laid for the change before never comes into use.
        unswept(tx, true)?;
    }
    settings::set(tx, SINCE, &Uuid::new_v4().simple().to_string())?;
    went_to(tx, 0)
}

/// Whether rows are waiting to be renewed.
///
/// # Errors
/// When the database does not answer.
pub fn is_stale(conn: &mut AnyConnection) -> Result<bool> {
    Ok(stale_after(conn)?.is_some())
}

/// The mark of the last change that made rows stale, another one after each; empty before the first.
pub(super) fn stale_since(conn: &mut AnyConnection) -> Result<String> {
    Ok(settings::get(conn, SINCE)?.unwrap_or_default())
}

/// The fixture after which rows are to be laid for the next turn; none when none are stale.
pub(super) fn stale_after(conn: &mut AnyConnection) -> Result<Option<i64>> {
    let Some(text) = settings::get(conn, AFTER)? else {
        return Ok(None);
    };
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().map(Some).map_err(Error::internal)
}

/// Whether rows of some fixtures are laid for the next turn.
pub(super) fn is_laying(stale_after: Option<i64>) -> bool {
    stale_after.is_some_and(|fixture| fixture > 0)
}

/// Rows are laid up to a fixture.
pub(super) fn went_to(tx: &mut Tx<'_>, fixture: i64) -> Result<()> {
    settings::set(tx, AFTER, &fixture.to_string())
}

/// No row is stale.
pub(super) fn is_right(tx: &mut Tx<'_>) -> Result<()> {
    settings::set(tx, AFTER, "")
}

/// Notes whether there are rows out of use.
pub(super) fn unswept(tx: &mut Tx<'_>, are_there: bool) -> Result<()> {
    settings::set(tx, UNSWEPT, if are_there { "yes" } else { "" })
}

/// Whether there are rows out of use.
pub(super) fn is_unswept(conn: &mut AnyConnection) -> Result<bool> {
    Ok(settings::get(conn, UNSWEPT)?.is_some_and(|text| !text.is_empty()))
}
