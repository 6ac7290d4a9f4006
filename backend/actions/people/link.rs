//! One-time links: made from 256 random bits, kept as a hash, taken once. Decides how long each kind is good.

use chrono::{NaiveDateTime, TimeDelta};

use super::sign_in::{hash_of, random_token};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::Standing;
use crate::domain::register::{Person, PersonId};
use crate::error::Result;
use crate::store::tokens::{self, LinkKind};
use crate::store::{AnyConnection, Tx, people};

/// How long a link is good.
#[must_use]
pub const fn lasts(kind: LinkKind) -> TimeDelta {
    match kind {
        LinkKind::Invite => TimeDelta::days(7),
        LinkKind::Reset => TimeDelta::hours(1),
        LinkKind::Setup => TimeDelta::hours(24),
    }
}

/// Makes a link under the address that people type, good from `from` on.
///
/// # Errors
/// When the database refuses.
pub fn make(
    tx: &mut Tx<'_>,
    now: Now,
    public_url: &str,
    kind: LinkKind,
    person: Option<PersonId>,
    from: NaiveDateTime,
) -> Result<String> {
    let token = random_token()?;
    tokens::insert(tx, now, &hash_of(&token), kind, person, from + lasts(kind))?;
    Ok(format!("{public_url}/{}/{token}", kind.code()))
}

/// Makes the link that a queued mail wants, when the mail can still be of use: its time is not over since it was written at
/// `written_at`, and its person still waits for it.
///
/// # Errors
/// When the database refuses.
pub fn make_for_mail(
    tx: &mut Tx<'_>,
    now: Now,
    public_url: &str,
    kind: LinkKind,
    person: PersonId,
    written_at: NaiveDateTime,
) -> Result<Option<String>> {
    let standing = people::by_id(tx, person)?.person.standing;
    if now.0 >= written_at + lasts(kind) || standing != awaited(kind) {
        return Ok(None);
    }
    make(tx, now, public_url, kind, Some(person), written_at).map(Some)
}

/// Whose link this is, when it is still good and the person may still use it.
///
/// # Errors
/// When the database does not answer.
pub fn look(conn: &mut AnyConnection, now: Now, kind: LinkKind, token: &str) -> Result<Option<Person>> {
    let Some(person) = tokens::find(conn, now, &hash_of(token), kind)?.and_then(|open| open.person) else {
        return Ok(None);
    };
    let person = people::by_id(conn, person)?.person;
    Ok((person.standing == awaited(kind)).then_some(person))
}

/// The standing of people for whom a link of this kind means something.
const fn awaited(kind: LinkKind) -> Standing {
    match kind {
        LinkKind::Invite => Standing::Invited,
        LinkKind::Reset | LinkKind::Setup => Standing::Active,
    }
}
