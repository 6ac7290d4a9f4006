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
