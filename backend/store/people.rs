//! People, their portfolios and buildings.

use diesel::prelude::*;

use super::AnyConnection;
use super::schema::people;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::person::{Role, Standing};
use crate::error::Result;

/// The active person of a role who was there first.
///
/// # Errors
/// When the database does not answer.
pub fn first_active(conn: &mut AnyConnection, role: Role) -> Result<Option<PersonId>> {
    let found: Option<i64> = people::table
        .filter(people::role.eq(role.code()))
        .filter(people::status.eq(Standing::Active.code()))
        .order(people::id)
        .select(people::id)
        .first(conn)
        .optional()?;
    Ok(found.map(PersonId))
}

/// The zone in which a person's days are counted.
///
/// # Errors
/// When there is no such person.
pub fn zone_of(conn: &mut AnyConnection, person: PersonId) -> Result<chrono_tz::Tz> {
    let name: String = people::table
        .find(person.0)
        .select(people::time_zone)
        .first(conn)?;
    Ok(name.parse().unwrap_or(chrono_tz::Tz::UTC))
}
