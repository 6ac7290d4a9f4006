//! Signed-in sessions. Only the SHA-256 of a token is known here.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::{people, person_buildings, person_portfolios, sessions};
use super::{AnyConnection, Tx, schema};
use crate::domain::code::Coded;
use crate::domain::register::person::{Actor, Role, Scope, Standing};
use crate::domain::register::{BuildingId, PersonId};
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

/// Stores a session.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, session: &NewSession<'_>) -> Result<()> {
    diesel::insert_into(sessions::table)
        .values(session)
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
        ))
        .first(conn)
        .optional()?;
    let Some((id, csrf, created_at, last_seen_at, ends_at, role_then, person, name, role, status, time_zone)) =
        found
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
    }))
}

/// What a person may see: the one place where a role becomes a set of buildings.
///
/// # Errors
/// When the database does not answer.
pub fn scope_of(conn: &mut AnyConnection, person: PersonId, role: Role) -> Result<Scope> {
    let buildings: Vec<i64> = match role {
        Role::Manager => return Ok(Scope::All),
        Role::Technician => person_buildings::table
            .filter(person_buildings::person_id.eq(person.0))
            .select(person_buildings::building_id)
            .load(conn)?,
        Role::Owner => schema::buildings::table
            .inner_join(
                person_portfolios::table
                    .on(person_portfolios::portfolio_id.eq(schema::buildings::portfolio_id)),
            )
            .filter(person_portfolios::person_id.eq(person.0))
            .select(schema::buildings::id)
            .load(conn)?,
    };
    Ok(Scope::Buildings(buildings.into_iter().map(BuildingId).collect()))
}

/// Notes that a session was used.
///
/// # Errors
/// When the database refuses.
pub fn touch(tx: &mut Tx<'_>, id: i64, at: NaiveDateTime) -> Result<()> {
    diesel::update(sessions::table.find(id))
        .set(sessions::last_seen_at.eq(at))
        .execute(&mut **tx)?;
    Ok(())
}

/// Ends one session.
///
/// # Errors
/// When the database refuses.
pub fn end(tx: &mut Tx<'_>, id: i64) -> Result<()> {
    diesel::delete(sessions::table.find(id)).execute(&mut **tx)?;
    Ok(())
}
