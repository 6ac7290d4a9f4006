//! One-time links. Only the SHA-256 of a token is known here; a link is taken once and then gone for good.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::one_time_tokens as tokens;
use super::{AnyConnection, Tx};
use crate::clock::Now;
use crate::coded;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::error::Result;

coded! {
    /// What a one-time link is for.
    LinkKind "link" {
        /// Choose the first password.
        Invite = "invite",
        /// Choose another password.
        Reset = "reset",
        /// Become the first manager.
        Setup = "setup",
    }
}

/// A link that was not taken and is still good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Open {
    /// For whom; none for the first set-up.
    pub person: Option<PersonId>,
    /// UTC.
    pub expires_at: NaiveDateTime,
}

/// Keeps the hash of a new link's token.
///
/// # Errors
/// When the database refuses.
pub fn insert(
    tx: &mut Tx<'_>,
    now: Now,
    token_hash: &str,
    kind: LinkKind,
    person: Option<PersonId>,
    expires_at: NaiveDateTime,
) -> Result<()> {
    diesel::insert_into(tokens::table)
        .values((
            tokens::token_hash.eq(token_hash),
            tokens::kind.eq(kind.code()),
            tokens::person_id.eq(person.map(|person| person.0)),
            tokens::created_at.eq(now.0),
            tokens::expires_at.eq(expires_at),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The link with this hash, when it is of the kind, was not taken and is still good.
///
/// # Errors
/// When the database does not answer.
pub fn find(conn: &mut AnyConnection, now: Now, token_hash: &str, kind: LinkKind) -> Result<Option<Open>> {
    let found: Option<(Option<i64>, NaiveDateTime)> = tokens::table
        .find(token_hash)
        .filter(tokens::kind.eq(kind.code()))
        .filter(tokens::used_at.is_null())
        .filter(tokens::expires_at.gt(now.0))
        .select((tokens::person_id, tokens::expires_at))
        .first(conn)
        .optional()?;
    Ok(found.map(|(person, expires_at)| Open {
        person: person.map(PersonId),
        expires_at,
    }))
}

/// Takes a link, and with it every other one of its kind for the same person: true for the one who was first.
///
/// # Errors
/// When the database refuses.
pub fn take(tx: &mut Tx<'_>, now: Now, token_hash: &str, kind: LinkKind) -> Result<bool> {
    let open = find(tx, now, token_hash, kind)?;
    let taken = diesel::update(
        tokens::table
            .find(token_hash)
            .filter(tokens::kind.eq(kind.code()))
            .filter(tokens::used_at.is_null())
            .filter(tokens::expires_at.gt(now.0)),
    )
    .set(tokens::used_at.eq(now.0))
    .execute(&mut **tx)?;
    if let Some(person) = open.and_then(|open| open.person) {
        close(tx, now, person)?;
    }
    Ok(taken == 1)
}

/// Makes every open link of a person worthless.
///
/// # Errors
/// When the database refuses.
pub fn close(tx: &mut Tx<'_>, now: Now, person: PersonId) -> Result<()> {
    diesel::update(
        tokens::table
            .filter(tokens::person_id.eq(person.0))
            .filter(tokens::used_at.is_null()),
    )
    .set(tokens::used_at.eq(now.0))
    .execute(&mut **tx)?;
    Ok(())
}

/// Makes every open link of the first set-up worthless.
///
/// # Errors
/// When the database refuses.
pub fn close_setup(tx: &mut Tx<'_>, now: Now) -> Result<()> {
    diesel::update(
        tokens::table
            .filter(tokens::kind.eq(LinkKind::Setup.code()))
            .filter(tokens::used_at.is_null()),
    )
    .set(tokens::used_at.eq(now.0))
    .execute(&mut **tx)?;
    Ok(())
}

/// Until when a person's latest open link of a kind is good.
///
/// # Errors
/// When the database does not answer.
pub fn good_until(
    conn: &mut AnyConnection,
    now: Now,
    person: PersonId,
    kind: LinkKind,
) -> Result<Option<NaiveDateTime>> {
    Ok(tokens::table
        .filter(tokens::person_id.eq(person.0))
        .filter(tokens::kind.eq(kind.code()))
        .filter(tokens::used_at.is_null())
        .filter(tokens::expires_at.gt(now.0))
        .select(diesel::dsl::max(tokens::expires_at))
        .first(conn)?)
}
