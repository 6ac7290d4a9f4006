//! The turn whose due rows are in use. Rows of the next one are laid beside them and taken into use all at once.

use diesel::dsl::sql;
use diesel::prelude::*;
use diesel::sql_types::BigInt;

use super::mark;
use crate::error::Result;
use crate::store::schema::{due_rows, due_turns};
use crate::store::{AnyConnection, Tx};

/// Until when a row is in use that nothing takes the place of.
pub(super) const OPEN: i64 = i64::MAX;

/// The turn that is in use.
///
/// # Errors
/// When the database does not answer.
pub(super) fn live(conn: &mut AnyConnection) -> Result<i64> {
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
    mark::renew(tx)
}

/// Removes at most `limit` rows that are out of use, and answers how many.
///
/// # Errors
/// When the database refuses.
pub(super) fn sweep(tx: &mut Tx<'_>, limit: i64) -> Result<usize> {
    let live = live(tx)?;
    let out_of_use: Vec<(i64, String, i64, i64)> = due_rows::table
        // Both bounds: with the first alone an index over the few closed rows would not be seen to serve.
        .filter(due_rows::until.lt(sql::<BigInt>(&OPEN.to_string())))
        .filter(due_rows::until.le(live))
        .select((
            due_rows::fixture_id,
            due_rows::part,
            due_rows::check_id,
            due_rows::since,
        ))
        .limit(limit)
        .load(&mut **tx)?;
    let mut fixtures: Vec<i64> = out_of_use.iter().map(|(fixture, ..)| *fixture).collect();
    fixtures.sort_unstable();
    fixtures.dedup();
    for chunk in fixtures.chunks(FIXTURES) {
        diesel::delete(due_rows::table)
            .filter(due_rows::fixture_id.eq_any(chunk))
            .filter(due_rows::until.le(live))
            .execute(&mut **tx)?;
    }
    Ok(out_of_use.len())
}

/// Fixtures whose rows one statement removes.
const FIXTURES: usize = 500;
