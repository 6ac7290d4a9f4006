//! The turn whose due rows are in use. The rows of the next one are laid beside them and taken into use all at once.

use diesel::prelude::*;

use crate::error::Result;
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

/// Rows that are out of use: those of the fixtures after one, up to another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sweep {
    after: i64,
    /// The last of the fixtures.
    pub to: i64,
}

/// About `limit` rows that are out of use, of the first fixtures after one that have any.
///
/// # Errors
/// When the database does not answer.
pub(super) fn next_sweep(conn: &mut AnyConnection, after: i64, limit: i64) -> Result<Sweep> {
    let live = live(conn)?;
    let last: Option<i64> = due_rows::table
        .filter(due_rows::fixture_id.gt(after))
        .filter(due_rows::turn.ne(live))
        .order((due_rows::fixture_id, due_rows::part, due_rows::check_id))
        .select(due_rows::fixture_id)
        .offset(limit)
        .first(conn)
        .optional()?;
    let to = last.unwrap_or(i64::MAX);
    Ok(Sweep { after, to })
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
