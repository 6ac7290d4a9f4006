//! Renewing every due row after a schedule or a check changed.
//!
//! First it is looked, without keeping anybody from writing, for how many fixtures there is a difference. A few are put right in one
//! transaction. For more of them all rows are laid anew beside those in use, in batches, each its own short transaction, and taken into
//! use at once when all are there; what is out of use then is removed in batches too. What is recorded meanwhile shows at once, under
//! the schedules as they are.

use std::time::{Duration, Instant};

use diesel::prelude::*;

use super::changes::Changes;
use super::ground::Selection;
use super::rows::{self, InUse};
use super::stale::{is_laying, is_right, is_unswept, stale_after, stale_since, unswept, went_to};
use super::{ALWAYS, compute, refresh, refresh_by, turns};
use crate::domain::due::Book;
use crate::domain::register::FixtureId;
use crate::error::{Error, Result};
use crate::store::schema::fixtures;
use crate::store::{AnyConnection, Db, Tx, schedules};

/// How much is done in one transaction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// Fixtures whose rows are laid: a result that is recorded meanwhile waits for one of these.
    pub laid: usize,
    /// Fixtures that are put right at once when there are no more of them; otherwise all rows are laid.
    pub at_once: usize,
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            laid: 400,
            at_once: 1_000,
        }
    }
}

/// Fixtures that are looked at in one transaction, which keeps nobody waiting.
const LOOKED_AT: usize = 1_000;

/// Rows that are removed in one transaction.
const SWEPT: usize = 2_000;

/// Between two batches, so that a result that waits for its turn to write gets it.
const PAUSE: Duration = Duration::from_millis(1);

/// So long a change of a schedule waits for its rows; the rest is left to the clockwork of the server.
const MOMENT: Duration = Duration::from_secs(2);

/// Renews the rows that are stale, batch by batch; several processes may do it at once.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn renew_stale(db: &Db) -> Result<()> {
    renew_by(db, Pace::default(), &mut |_| true)
}

/// Renews for a moment: all of a fleet of some thousand fixtures. Of a large one the clockwork, or the command line before it ends,
/// does what is left, which may be all.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn begin_renewal(db: &Db) -> Result<()> {
    let end = Instant::now() + MOMENT;
    renew_by(db, Pace::default(), &mut |_| Instant::now() < end)
}

/// What was done last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Some fixtures were looked at.
    Looked,
    /// Some rows were laid beside those in use.
    Laid,
    /// All rows in use are right.
    InUse,
    /// Some that are out of use were removed.
    Swept,
}

/// Renews at a pace for as long as `goes_on` says so, which is asked after each step.
///
/// # Errors
/// When the database refuses; what was renewed stays so.
pub fn renew_by(db: &Db, pace: Pace, goes_on: &mut dyn FnMut(Step) -> bool) -> Result<()> {
    let mut swept_to = 0;
    let mut book = None;
    while let Some(waiting) = db.read(waiting)? {
        let done = match waiting {
            Waiting::All(since) => match look(db, pace, goes_on)? {
                Found::Stopped => break,
                Found::Few(fixtures) => db.write(|tx| renew_few(tx, &since, &fixtures))?,
                Found::Many => db.write(|tx| lay(tx, &since, pace.laid, &mut book))?,
            },
            Waiting::Rest(since) => db.write(|tx| lay(tx, &since, pace.laid, &mut book))?,
            Waiting::Sweep => sweep(db, &mut swept_to)?,
        };
        if done.is_some_and(|step| !goes_on(step)) {
            break;
        }
        std::thread::sleep(PAUSE);
    }
    Ok(())
}

/// Removes some rows that are out of use, of the fixtures after the one that the last sweep ended with; none when something else
/// came between.
fn sweep(db: &Db, swept_to: &mut i64) -> Result<Option<Step>> {
    let next = db.read(|conn| turns::next_sweep(conn, *swept_to, SWEPT))?;
    *swept_to = if next.is_last { 0 } else { next.to };
    db.write(|tx| {
        if is_laying(stale_after(tx)?) {
            return Ok(None);
        }
        turns::sweep(tx, next)?;
        // Others may have come out of use behind this one, of fixtures that it had passed.
        if next.is_last && !turns::are_out_of_use(tx)? {
            unswept(tx, false)?;
        }
        Ok(Some(Step::Swept))
    })
}

/// What waits to be done; with the mark of the change that made rows stale.
enum Waiting {
    /// Every row may be wrong, and none is laid.
    All(String),
    /// Rows are laid for some fixtures, and wait for the others.
    Rest(String),
    /// Rows are out of use.
    Sweep,
}

fn waiting(conn: &mut AnyConnection) -> Result<Option<Waiting>> {
    let stale = stale_after(conn)?;
    if is_laying(stale) {
        return Ok(Some(Waiting::Rest(stale_since(conn)?)));
    }
    // Before anything is laid, so that what was laid under an earlier change never comes into use.
    if is_unswept(conn)? {
        return Ok(Some(Waiting::Sweep));
    }
    if stale.is_none() {
        return Ok(None);
    }
    Ok(Some(Waiting::All(stale_since(conn)?)))
}

/// For how many fixtures there is a difference.
enum Found {
    /// For these.
    Few(Vec<FixtureId>),
    /// For more than are put right at once.
    Many,
    /// Unknown: it was not to go on.
    Stopped,
}

/// Looks from the first fixture to the last, or until it has seen enough.
fn look(db: &Db, pace: Pace, goes_on: &mut dyn FnMut(Step) -> bool) -> Result<Found> {
    let mut few = Vec::new();
    let mut after = 0;
    let book = db.read(schedules::book)?;
    while few.len() <= pace.at_once && pace.at_once > 0 {
        let Some(last) = db.read(|conn| differing(conn, &book, after, &mut few))? else {
            return Ok(Found::Few(few));
        };
        if !goes_on(Step::Looked) {
            return Ok(Found::Stopped);
        }
        after = last;
    }
    Ok(Found::Many)
}

/// Adds those of the fixtures after one whose rows in use are not right, and answers the last that it looked at.
fn differing(
    conn: &mut AnyConnection,
    book: &Book,
    after: i64,
    found: &mut Vec<FixtureId>,
) -> Result<Option<i64>> {
    let ids = fixtures_after(conn, after, LOOKED_AT)?;
    let selection = Selection::Fixtures(&ids);
    let computed = compute(conn, book, selection, ALWAYS)?.stored_rows();
    let changes = Changes::between(rows::load(conn, selection)?, &computed);
    found.extend(changes.fixtures().into_iter().map(FixtureId));
    Ok(ids.last().copied())
}

/// Puts the rows of a few fixtures right; none when something was changed since it was looked.
fn renew_few(tx: &mut Tx<'_>, since: &str, fixtures: &[FixtureId]) -> Result<Option<Step>> {
    if stale_after(tx)? != Some(0) || stale_since(tx)? != since {
        return Ok(None);
    }
    is_right(tx)?;
    let book = schedules::book(tx)?;
    refresh_by(tx, &book, fixtures)?;
    turns::mark_right(tx)?;
    Ok(Some(Step::InUse))
}

/// Schedules and checks as they stand since a change, read and compiled once for all batches.
struct Known {
    since: String,
    book: Book,
}

impl Known {
    fn book<'a>(known: &'a mut Option<Self>, tx: &mut Tx<'_>, since: &str) -> Result<&'a Book> {
        let kept = known.take().filter(|known| known.since == since);
        let read = match kept {
            Some(kept) => kept,
            None => Self {
                since: since.to_owned(),
                book: schedules::book(tx)?,
            },
        };
        Ok(&known.insert(read).book)
    }
}

/// Lays the rows of the next fixtures, or takes all into use; none when another process was faster, or something was changed since, so
/// that what is laid must be swept first.
fn lay(tx: &mut Tx<'_>, since: &str, size: usize, known: &mut Option<Known>) -> Result<Option<Step>> {
    let Some(after) = stale_after(tx)? else {
        return Ok(None);
    };
    if stale_since(tx)? != since || (after == 0 && is_unswept(tx)?) {
        return Ok(None);
    }
    let ids = fixtures_after(tx, after, size)?;
    let Some(last) = ids.last() else {
        turns::switch(tx)?;
        is_right(tx)?;
        unswept(tx, true)?;
        return Ok(Some(Step::InUse));
    };
    let book = Known::book(known, tx, since)?;
    refresh(tx, book, Selection::Fixtures(&ids), InUse::NextTurn)?;
    went_to(tx, *last)?;
    Ok(Some(Step::Laid))
}

fn fixtures_after(conn: &mut AnyConnection, after: i64, limit: usize) -> Result<Vec<i64>> {
    Ok(fixtures::table
        .filter(fixtures::id.gt(after))
        .order(fixtures::id)
        .select(fixtures::id)
        .limit(i64::try_from(limit).map_err(Error::internal)?)
        .load(conn)?)
}
