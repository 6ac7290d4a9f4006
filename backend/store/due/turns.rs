//! The turn whose due rows are in use. The rows of the next one are laid beside them and taken into use all at once.

use diesel::prelude::*;

use super::stale::{is_laying, stale_after};
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

/// A turn that has rows and is not in use; one that is being laid is such a turn too.
///
/// # Errors
/// When the database does not answer.
pub(super) fn out_of_use(conn: &mut AnyConnection) -> Result<Option<i64>> {
    let live = live(conn)?;
    let turns = due_rows::table.select(due_rows::turn);
    let before: Option<i64> = turns.filter(due_rows::turn.lt(live)).first(conn).optional()?;
    if before.is_some() {
        return Ok(before);
    }
    Ok(turns.filter(due_rows::turn.gt(live)).first(conn).optional()?)
}

/// The rows of a turn that are removed together: those of the fixtures after one, up to another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sweep {
    turn: i64,
    after: i64,
    /// The last of the fixtures.
    pub to: i64,
}

/// About `limit` rows that are out of use, of the first fixtures after one that have any; none when there are none left.
///
/// # Errors
/// When the database does not answer.
pub(super) fn next_sweep(conn: &mut AnyConnection, after: i64, limit: i64) -> Result<Option<Sweep>> {
    let Some(turn) = out_of_use(conn)? else {
        return Ok(None);
    };
    let last: Option<i64> = due_rows::table
        .filter(due_rows::turn.eq(turn))
        .filter(due_rows::fixture_id.gt(after))
        .order((due_rows::fixture_id, due_rows::part, due_rows::check_id))
        .select(due_rows::fixture_id)
        .offset(limit)
        .first(conn)
        .optional()?;
    let to = last.unwrap_or(i64::MAX);
    Ok(Some(Sweep { turn, after, to }))
}

/// Removes them, unless rows of that turn are in use or laid by now; answers whether it did.
///
/// # Errors
/// When the database refuses.
pub(super) fn sweep(tx: &mut Tx<'_>, sweep: Sweep) -> Result<bool> {
    if live(tx)? == sweep.turn || is_laying(stale_after(tx)?) {
        return Ok(false);
    }
    diesel::delete(due_rows::table)
        .filter(due_rows::turn.eq(sweep.turn))
        .filter(due_rows::fixture_id.gt(sweep.after))
        .filter(due_rows::fixture_id.le(sweep.to))
        .execute(&mut **tx)?;
    Ok(true)
}
