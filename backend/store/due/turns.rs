//! The turn whose due rows are in use. The rows of the next one are laid beside them and taken into use all at once.

use diesel::prelude::*;

use crate::error::{Error, Result};
use crate::store::schema::{due_rows, due_turns};
use crate::store::{AnyConnection, Tx};

/// The turn that is in use.
///
/// # Errors
/// When the database does not answer.
pub fn live(conn: &mut AnyConnection) -> Result<i64> {
    Ok(due_turns::table.select(due_turns::live).first(conn)?)
}

/// Takes the next turn into use.
///
/// # Errors
/// When the database refuses.
pub(super) fn switch(tx: &mut Tx<'_>) -> Result<()> {
    diesel::update(due_turns::table)
        .set(due_turns::live.eq(due_turns::live + 1))
        .execute(&mut **tx)?;
    Ok(())
}

/// Notes that rows in use are right again, so that what was read while they were stale is read anew.
///
/// # Errors
/// When the database refuses.
pub(super) fn mark_right(tx: &mut Tx<'_>) -> Result<()> {
    // A trigger on this table sets another mark.
    diesel::update(due_turns::table)
        .set(due_turns::live.eq(due_turns::live))
        .execute(&mut **tx)?;
    Ok(())
}

/// Whether any rows are out of use, or laid.
///
/// # Errors
/// When the database does not answer.
pub(super) fn are_out_of_use(conn: &mut AnyConnection) -> Result<bool> {
    let live = live(conn)?;
    let turns = due_rows::table.select(due_rows::turn);
    // Each of the two is a range of an index; one comparison for both would be none.
    let before: Option<i64> = turns.filter(due_rows::turn.lt(live)).first(conn).optional()?;
    let after: Option<i64> = turns.filter(due_rows::turn.gt(live)).first(conn).optional()?;
    Ok(before.or(after).is_some())
}

/// Rows that are out of use: those of the fixtures after one, up to another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sweep {
    after: i64,
    /// The last of the fixtures.
    pub to: i64,
    /// Whether no fixture after it has any.
    pub is_last: bool,
}

/// About `limit` rows that are out of use, of the first fixtures after one that have any.
///
/// # Errors
/// When the database does not answer.
pub(super) fn next_sweep(conn: &mut AnyConnection, after: i64, limit: usize) -> Result<Sweep> {
    let live = live(conn)?;
    let fixtures: Vec<i64> = due_rows::table
        .filter(due_rows::fixture_id.gt(after))
        .filter(due_rows::turn.ne(live))
        .order((due_rows::fixture_id, due_rows::part, due_rows::check_id))
        .select(due_rows::fixture_id)
        .limit(i64::try_from(limit).map_err(Error::internal)?)
        .load(conn)?;
    Ok(Sweep {
        after,
        to: fixtures.last().copied().unwrap_or(after),
        is_last: fixtures.len() < limit,
    })
}

/// Removes them.
///
/// # Errors
/// When the database refuses.
pub(super) fn sweep(tx: &mut Tx<'_>, sweep: Sweep) -> Result<()> {
    let live = live(tx)?;
    diesel::delete(due_rows::table)
        .filter(due_rows::fixture_id.gt(sweep.after))
        .filter(due_rows::fixture_id.le(sweep.to))
        .filter(due_rows::turn.ne(live))
        .execute(&mut **tx)?;
    Ok(())
}
