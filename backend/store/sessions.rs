//! Signed-in sessions. Only the SHA-256 of a token is known here.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::assignments::scope_of;
use super::schema::{people, sessions};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::{Actor, Role, Standing};
use crate::domain::register::{LanguageTag, PersonId};
use crate::error::{Error, Result};

/// A session that was found by the hash of its token.
#[derive(Debug, Clone)]
pub struct Session {
    /// Key of the session, for the list of one's own sessions.
    pub id: i64,
    /// The token that its forms carry.
    pub csrf: String,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// UTC, to the minute.
    pub last_seen_at: NaiveDateTime,
    /// UTC, absolute limit.
    pub ends_at: NaiveDateTime,
    /// Who is signed in, with what they may see.
    pub actor: Actor,
    /// IANA zone of the person.
    pub time_zone: String,
    /// The language that the person reads.
    pub language: LanguageTag,
}

/// A session to be stored.
#[derive(Insertable)]
#[diesel(table_name = sessions)]
pub struct NewSession<'a> {
    /// SHA-256 of the token, hexadecimal.
    pub token_hash: &'a str,
    /// Token of its forms.
    pub csrf: &'a str,
    /// Whose.
    pub person_id: i64,
    /// Role at sign-in.
    pub role: &'a str,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// UTC.
    pub last_seen_at: NaiveDateTime,
    /// UTC.
    pub ends_at: NaiveDateTime,
    /// As sent, cut to 200 characters.
    pub user_agent: &'a str,
}

/// Stores a session; its person was seen now.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, session: &NewSession<'_>) -> Result<()> {
    diesel::insert_into(sessions::table)
        .values(session)
        .execute(&mut **tx)?;
    diesel::update(people::table.find(session.person_id))
        .set(people::last_seen_at.eq(session.created_at))
        .execute(&mut **tx)?;
    Ok(())
}

type Found = (
    i64,
    String,
    NaiveDateTime,
    NaiveDateTime,
    NaiveDateTime,
    String,
    i64,
    String,
    String,
    String,
    String,
    String,
);

/// The session with this hash, when its person is active and still has the role of the sign-in.
///
/// # Errors
/// When the database does not answer.
pub fn find(conn: &mut AnyConnection, token_hash: &str) -> Result<Option<Session>> {
    let found: Option<Found> = sessions::table
        .inner_join(people::table)
        .filter(sessions::token_hash.eq(token_hash))
        .select((
            sessions::id,
            sessions::csrf,
            sessions::created_at,
            sessions::last_seen_at,
            sessions::ends_at,
            sessions::role,
            people::id,
            people::name,
            people::role,
            people::status,
            people::time_zone,
            people::language,
        ))
        .first(conn)
        .optional()?;
    let Some((
        id,
        csrf,
        created_at,
        last_seen_at,
        ends_at,
        role_then,
        person,
        name,
        role,
        status,
        time_zone,
        language,
    )) = found
    else {
        return Ok(None);
    };
    if status != Standing::Active.code() || role != role_then {
        return Ok(None);
    }
    let role = Role::from_code(&role).map_err(Error::internal)?;
    let scope = scope_of(conn, PersonId(person), role)?;
    let actor = Actor {
        person: Some(PersonId(person)),
        role,
        scope,
        name,
    };
    Ok(Some(Session {
        id,
        csrf,
        created_at,
        last_seen_at,
        ends_at,
        actor,
        time_zone,
        language: LanguageTag::read(&language).unwrap_or_else(|_malformed| LanguageTag::usual()),
    }))
}

/// Notes that a session was used, and its person seen.
///
/// # Errors
/// When the database refuses.
pub fn touch(tx: &mut Tx<'_>, id: i64, at: NaiveDateTime) -> Result<()> {
    let person: Option<i64> = diesel::update(sessions::table.find(id))
        .set(sessions::last_seen_at.eq(at))
        .returning(sessions::person_id)
        .get_result(&mut **tx)
        .optional()?;
    if let Some(person) = person {
        diesel::update(people::table.find(person))
            .set(people::last_seen_at.eq(at))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// One of a person's sessions, as their own list shows it.
#[derive(Debug, Clone, Queryable)]
pub struct Listed {
    /// Key of the session.
    pub id: i64,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// UTC, to the minute.
    pub last_seen_at: NaiveDateTime,
    /// UTC, absolute limit.
    pub ends_at: NaiveDateTime,
    /// What the browser called itself.
    pub user_agent: String,
}

/// The sessions of a person that are not over, the last used first.
///
/// # Errors
/// When the database does not answer.
pub fn of_person(conn: &mut AnyConnection, person: PersonId, now: NaiveDateTime) -> Result<Vec<Listed>> {
    Ok(sessions::table
        .filter(sessions::person_id.eq(person.0))
        .filter(sessions::ends_at.gt(now))
        .order((sessions::last_seen_at.desc(), sessions::id.desc()))
        .select((
            sessions::id,
            sessions::created_at,
            sessions::last_seen_at,
            sessions::ends_at,
            sessions::user_agent,
        ))
        .load(conn)?)
}

/// Ends one session.
///
/// # Errors
/// When the database refuses.
pub fn end(tx: &mut Tx<'_>, id: i64) -> Result<()> {
    diesel::delete(sessions::table.find(id)).execute(&mut **tx)?;
    Ok(())
}

/// Ends one session of a person; says whether it was theirs.
///
/// # Errors
/// When the database refuses.
pub fn end_own(tx: &mut Tx<'_>, person: PersonId, id: i64) -> Result<bool> {
    let own = sessions::table.find(id).filter(sessions::person_id.eq(person.0));
    Ok(diesel::delete(own).execute(&mut **tx)? == 1)
}

/// Which of a person's sessions stay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// None.
    None,
    /// The one with this key.
    One(i64),
}

/// Ends the sessions of a person and says how many there were.
///
/// # Errors
/// When the database refuses.
pub fn end_all(tx: &mut Tx<'_>, person: PersonId, keep: Keep) -> Result<usize> {
    let kept = match keep {
        Keep::None => -1,
        Keep::One(id) => id,
    };
    let ended = sessions::table
        .filter(sessions::person_id.eq(person.0))
        .filter(sessions::id.ne(kept));
    Ok(diesel::delete(ended).execute(&mut **tx)?)
}

/// Forgets the sessions that are over, and says how many there were.
///
/// # Errors
/// When the database refuses.
pub fn end_over(tx: &mut Tx<'_>, now: NaiveDateTime) -> Result<usize> {
    Ok(diesel::delete(sessions::table.filter(sessions::ends_at.le(now))).execute(&mut **tx)?)
}
