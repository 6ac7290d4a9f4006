//! Counts of tries, by the hash of what is counted, so that guessing is slow on every server process alike.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::attempts;
use super::{AnyConnection, Tx};
use crate::clock::Now;
use crate::error::Result;

/// Tries that were counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct Tries {
    /// How many.
    pub tries: i64,
    /// UTC, the first of them.
    pub since: NaiveDateTime,
    /// UTC, the last of them.
    pub last_at: NaiveDateTime,
}

/// The tries of a subject, when there were any.
///
/// # Errors
/// When the database does not answer.
pub fn of(conn: &mut AnyConnection, subject: &str) -> Result<Option<Tries>> {
    Ok(attempts::table
        .find(subject)
        .select((attempts::tries, attempts::since, attempts::last_at))
        .first(conn)
        .optional()?)
}

/// Counts a try on top of `before`; without it the count begins.
///
/// # Errors
/// When the database refuses.
pub fn count(tx: &mut Tx<'_>, now: Now, subject: &str, before: Option<Tries>) -> Result<()> {
    let tries = Tries {
        tries: before.map_or(0, |before| before.tries) + 1,
        since: before.map_or(now.0, |before| before.since),
        last_at: now.0,
    };
    forget(tx, subject)?;
    diesel::insert_into(attempts::table)
        .values((
            attempts::subject.eq(subject),
            attempts::tries.eq(tries.tries),
            attempts::since.eq(tries.since),
            attempts::last_at.eq(tries.last_at),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Takes one try back, because it was no guess.
///
/// # Errors
/// When the database refuses.
pub fn take_back(tx: &mut Tx<'_>, subject: &str) -> Result<()> {
    diesel::update(attempts::table.find(subject).filter(attempts::tries.gt(0)))
        .set(attempts::tries.eq(attempts::tries - 1))
        .execute(&mut **tx)?;
    Ok(())
}

/// Forgets the tries of a subject.
///
/// # Errors
/// When the database refuses.
pub fn forget(tx: &mut Tx<'_>, subject: &str) -> Result<()> {
    diesel::delete(attempts::table.find(subject)).execute(&mut **tx)?;
    Ok(())
}

/// Forgets what was last counted before `before`.
///
/// # Errors
/// When the database refuses.
pub fn forget_older(tx: &mut Tx<'_>, before: NaiveDateTime) -> Result<usize> {
    Ok(diesel::delete(attempts::table.filter(attempts::last_at.lt(before))).execute(&mut **tx)?)
}
