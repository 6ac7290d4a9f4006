//! Results of a building for a file, in the order in which they were recorded, a chunk at a time.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use crate::domain::register::BuildingId;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schema::{checks, fixtures, people, results, tags, units};

/// Rows of a chunk.
pub const CHUNK: i64 = 5_000;

/// A result with the labels and codes that people know.
#[derive(Debug, Clone, Queryable)]
pub struct ResultRow {
    /// Key, for the next chunk.
    pub key: i64,
    /// UUID.
    pub id: String,
    /// Label of the unit.
    pub unit: String,
    /// Label of the place.
    pub tag: String,
    /// Code of the kind that stood there.
    pub kind: String,
    /// Code of the part, may be empty.
    pub part: String,
    /// Code of the check.
    pub check: String,
    /// Version of the procedure.
    pub check_version: i64,
    /// Code of the outcome.
    pub outcome: String,
    /// May be empty.
    pub reason: String,
    /// May be empty.
    pub reading: String,
    /// May be empty.
    pub note: String,
    /// UTC.
    pub done_at: NaiveDateTime,
    /// Local date.
    pub done_on: NaiveDate,
    /// UTC.
    pub received_at: NaiveDateTime,
    /// Mail address.
    pub person: Option<String>,
    /// What was asked then; may be empty.
    pub asked: String,
    /// JSON of what was measured beyond a reading; may be empty.
    pub detail: String,
}

/// The results of a building after the one with this key, at most [`CHUNK`].
///
/// # Errors
/// When the database does not answer.
pub fn of_building(conn: &mut AnyConnection, building: BuildingId, after: i64) -> Result<Vec<ResultRow>> {
    Ok(results::table
        .inner_join(units::table)
        .inner_join(tags::table)
        .inner_join(fixtures::table)
        .inner_join(checks::table)
        .left_join(people::table)
        .filter(results::building_id.eq(building.0))
        .filter(results::id.gt(after))
        .order(results::id)
        .limit(CHUNK)
        .select((
            results::id,
            results::client_id,
            units::label,
            tags::label,
            fixtures::kind,
            results::part,
            checks::code,
            results::check_version,
            results::outcome,
            results::reason,
            results::reading,
            results::note,
            results::done_at,
            results::done_on,
            results::received_at,
            people::email.nullable(),
            results::asked,
            results::detail,
        ))
        .load(conn)?)
}
