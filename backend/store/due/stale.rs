//! Renewing every due row after a schedule or a check changed: in batches, each its own short transaction.
//!
//! How far it came stands in the database, so that a process that stops midway, or another one, goes on from there.

use diesel::prelude::*;

use super::{BATCH, refresh_by};
use crate::domain::register::FixtureId;
use crate::error::{Error, Result};
use crate::store::schema::fixtures;
use crate::store::{AnyConnection, Db, Tx, schedules, settings};

/// The fixture after which rows are stale; empty or absent when none are.
const KEY: &str = "due.stale_after_fixture";

/// Notes that every due row may be wrong from now on, until [`renew_stale`] has run.
///
/// # Errors
/// When the database refuses.
pub fn mark_stale(tx: &mut Tx<'_>) -> Result<()> {
    settings::set(tx, KEY, "0")
}

/// Whether rows are waiting to be renewed.
///
/// # Errors
/// When the database does not answer.
pub fn is_stale(conn: &mut AnyConnection) -> Result<bool> {
    Ok(stale_after(conn)?.is_some())
}

/// Renews the rows that are stale, batch by batch; several processes may do it at once.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn renew_stale(db: &Db) -> Result<()> {
    if !db.read(is_stale)? {
        return Ok(());
    }
    while db.write(renew_batch)? == Progress::More {}
    Ok(())
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Progress {
    More,
    Done,
}

fn renew_batch(tx: &mut Tx<'_>) -> Result<Progress> {
    let Some(after) = stale_after(tx)? else {
        return Ok(Progress::Done);
    };
    let ids: Vec<i64> = fixtures::table
        .filter(fixtures::id.gt(after))
        .order(fixtures::id)
        .select(fixtures::id)
        .limit(i64::try_from(BATCH).map_err(Error::internal)?)
        .load(&mut **tx)?;
    let Some(last) = ids.last() else {
        settings::set(tx, KEY, "")?;
        return Ok(Progress::Done);
    };
    let last = last.to_string();
    let book = schedules::book(tx)?;
    let batch: Vec<FixtureId> = ids.into_iter().map(FixtureId).collect();
    refresh_by(tx, &book, &batch)?;
    settings::set(tx, KEY, &last)?;
    Ok(Progress::More)
}

fn stale_after(conn: &mut AnyConnection) -> Result<Option<i64>> {
    let Some(text) = settings::get(conn, KEY)? else {
        return Ok(None);
    };
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().map(Some).map_err(Error::internal)
}
