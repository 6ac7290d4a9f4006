//! Renewing every due row after a schedule or a check changed: laid beside the rows in use in batches, each its own short transaction,
//! and taken into use at once when all are there; what is out of use then is removed in batches too. What is recorded meanwhile shows at
//! once, under the schedules as they are.
//!
//! How far it came stands in the database, so that a process that stops midway, or another one, goes on from there.

use std::time::{Duration, Instant};

use diesel::prelude::*;

use super::rows::InUse;
use super::{refresh, turns};
use crate::error::{Error, Result};
use crate::store::due::ground::Selection;
use crate::store::schema::fixtures;
use crate::store::{AnyConnection, Db, Tx, schedules, settings};

/// The fixture after which rows are stale; empty or absent when none are.
const KEY: &str = "due.stale_after_fixture";

/// "yes" while rows are out of use and not yet removed.
const UNSWEPT: &str = "due.unswept";

/// Fixtures whose rows are laid in one transaction: a result that is recorded meanwhile waits for one of these.
const LAID: usize = 250;

/// Rows that are removed in one transaction.
const SWEPT: i64 = 1_500;

/// Between two batches, so that a result that waits for its turn to write gets it.
const PAUSE: Duration = Duration::from_millis(1);

/// So long a change of a schedule waits for its rows; the rest is left to the clockwork of the server.
const MOMENT: Duration = Duration::from_secs(2);

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
    renew_by(db, LAID, &mut |_| true)
}

/// Renews for a moment: all of a fleet of some thousand fixtures, the first of a large one. The clockwork, or the command line before
/// it ends, does the rest.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn begin_renewal(db: &Db) -> Result<()> {
    let end = Instant::now() + MOMENT;
    renew_by(db, LAID, &mut |_| Instant::now() < end)
}

/// What was done last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Some rows were laid beside those in use.
    Laid,
    /// All of them are in use.
    InUse,
    /// Some that are out of use were removed.
    Swept,
}

/// Renews by so many fixtures at a time for as long as `goes_on` says so, which is asked after each step.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn renew_by(db: &Db, fixtures: usize, goes_on: &mut dyn FnMut(Step) -> bool) -> Result<()> {
    while let Some(step) = db.read(waiting)? {
        let done = db.write(|tx| match step {
            Waiting::Renewal => renew_batch(tx, fixtures),
            Waiting::Sweep => sweep_batch(tx),
        })?;
        if done.is_some_and(|step| !goes_on(step)) {
            break;
        }
        std::thread::sleep(PAUSE);
    }
    Ok(())
}

/// What waits to be done.
enum Waiting {
    Renewal,
    Sweep,
}

fn waiting(conn: &mut AnyConnection) -> Result<Option<Waiting>> {
    if is_stale(conn)? {
        return Ok(Some(Waiting::Renewal));
    }
    let unswept = settings::get(conn, UNSWEPT)?;
    Ok(unswept.filter(|text| !text.is_empty()).map(|_| Waiting::Sweep))
}

/// Lays the rows of the next fixtures, or takes all into use; none when another process was faster.
fn renew_batch(tx: &mut Tx<'_>, size: usize) -> Result<Option<Step>> {
    let Some(after) = stale_after(tx)? else {
        return Ok(None);
    };
    let ids: Vec<i64> = fixtures::table
        .filter(fixtures::id.gt(after))
        .order(fixtures::id)
        .select(fixtures::id)
        .limit(i64::try_from(size).map_err(Error::internal)?)
        .load(&mut **tx)?;
    let Some(last) = ids.last() else {
        turns::switch(tx)?;
        settings::set(tx, KEY, "")?;
        settings::set(tx, UNSWEPT, "yes")?;
        return Ok(Some(Step::InUse));
    };
    let book = schedules::book(tx)?;
    refresh(tx, &book, Selection::Fixtures(&ids), InUse::NextTurn)?;
    settings::set(tx, KEY, &last.to_string())?;
    Ok(Some(Step::Laid))
}

/// Removes some rows that are out of use; none when there are none left.
fn sweep_batch(tx: &mut Tx<'_>) -> Result<Option<Step>> {
    if turns::sweep(tx, SWEPT)? > 0 {
        return Ok(Some(Step::Swept));
    }
    settings::set(tx, UNSWEPT, "")?;
    Ok(None)
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
