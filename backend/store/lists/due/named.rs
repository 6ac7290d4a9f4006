//! What fixtures are called on a list: a few words of each, in one statement.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::domain::trade::FixtureKind;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::among::among;
use crate::store::coded::read_code;
use crate::store::schema::{fixtures, rooms, tags, units};

/// What a fixture is called.
#[derive(Debug)]
pub struct Name {
    /// What it is.
    pub kind: FixtureKind,
    /// Label of its place.
    pub tag: String,
    /// Name of the room, empty when none was named.
    pub room: String,
    /// The unit, as on the door.
    pub unit: String,
}

/// Of these fixtures, in service or not, by key.
///
/// # Errors
/// When the database does not answer.
pub fn names(conn: &mut AnyConnection, fixtures: &[i64]) -> Result<HashMap<i64, Name>> {
    let rows: Vec<(i64, String, String, Option<String>, String)> = fixtures::table
        .inner_join(tags::table.left_join(rooms::table).inner_join(units::table))
        .filter(among(conn, "fixtures.id", fixtures))
        .select((
            fixtures::id,
            fixtures::kind,
            tags::label,
            rooms::name.nullable(),
            units::label,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(id, kind, tag, room, unit)| {
            let kind = read_code(&kind)?;
            let room = room.unwrap_or_default();
            Ok((
                id,
                Name {
                    kind,
                    tag,
                    room,
                    unit,
                },
            ))
        })
        .collect()
}
