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

/// Removes about `limit` rows that are out of use, and answers how many.
///
/// # Errors
/// When the database refuses.
pub(super) fn sweep(tx: &mut Tx<'_>, limit: i64) -> Result<usize> {
    let Some(turn) = out_of_use(tx)? else {
        return Ok(0);
    };
    let last: Option<i64> = due_rows::table
        .filter(due_rows::turn.eq(turn))
        .order((due_rows::turn, due_rows::fixture_id))
        .select(due_rows::fixture_id)
        .offset(limit)
        .first(&mut **tx)
        .optional()?;
    Ok(diesel::delete(due_rows::table)
        .filter(due_rows::turn.eq(turn))
        .filter(due_rows::fixture_id.le(last.unwrap_or(i64::MAX)))
        .execute(&mut **tx)?)
}
