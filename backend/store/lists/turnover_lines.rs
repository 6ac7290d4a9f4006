//! Turnovers of a building for a file, in the order in which they were opened, a chunk at a time.

use std::collections::HashMap;

use diesel::prelude::*;

use crate::domain::code::Coded as _;
use crate::domain::register::{BuildingId, PersonId, TurnoverId};
use crate::domain::turnover::Turnover;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::document_forms::Form;
use crate::store::schema::{document_forms, documents, people, turnovers, units};
use crate::store::turnovers::Row;

/// Rows of a chunk.
pub const CHUNK: i64 = 2_000;

/// A turnover with the words that people know.
#[derive(Debug, Clone)]
pub struct TurnoverRow {
    /// The turnover.
    pub turnover: Turnover,
    /// Label of the unit.
    pub unit: String,
    /// Mail address of who opened it; none for the command line.
    pub opened_by: Option<String>,
    /// Mail address of who declared it ready; none for the command line, or when it is not.
    pub ready_by: Option<String>,
    /// Mail address of who closed or cancelled it; none for the command line, or while it is open.
    pub closed_by: Option<String>,
    /// Its record; none while it has none.
    pub record: Option<RecordSums>,
}

/// The number of a record and the SHA-256 of what is given out of it, hexadecimal.
#[derive(Debug, Clone)]
pub struct RecordSums {
    /// Counts in the building.
    pub number: i64,
    /// Of the page.
    pub page: String,
    /// Of the PDF; none for a record that was made before there were any.
    pub pdf: Option<String>,
}

/// The turnovers of a building after this one, at most [`CHUNK`].
///
/// # Errors
/// When the database does not answer.
pub fn of_building(
    conn: &mut AnyConnection,
    building: BuildingId,
    after: TurnoverId,
) -> Result<Vec<TurnoverRow>> {
    let rows: Vec<(Row, String)> = turnovers::table
        .inner_join(units::table)
        .filter(turnovers::building_id.eq(building.0))
        .filter(turnovers::id.gt(after.0))
        .order(turnovers::id)
        .limit(CHUNK)
        .select((turnovers::all_columns, units::label))
        .load(conn)?;
    let mut read = Vec::with_capacity(rows.len());
    for (row, unit) in rows {
        read.push((row.read()?, unit));
    }
    let who = read
        .iter()
        .flat_map(|(one, _)| [one.opened_by, one.ready_by, one.closed_by]);
    let addresses = addresses(conn, who.flatten())?;
    let address = |person: Option<PersonId>| addresses.get(&person?).cloned();
    let mut records = records(conn, building, after)?;
    let rows = read.into_iter().map(|(turnover, unit)| TurnoverRow {
        unit,
        opened_by: address(turnover.opened_by),
        ready_by: address(turnover.ready_by),
        closed_by: address(turnover.closed_by),
        record: records.remove(&turnover.id),
        turnover,
    });
    Ok(rows.collect())
}

/// The records of at most as many turnovers as a chunk has.
fn records(
    conn: &mut AnyConnection,
    building: BuildingId,
    after: TurnoverId,
) -> Result<HashMap<TurnoverId, RecordSums>> {
    let is_pdf = document_forms::document_id
        .eq(documents::id)
        .and(document_forms::form.eq(Form::Pdf.code()));
    let rows: Vec<(Option<i64>, i64, String, Option<String>)> = documents::table
        .left_join(document_forms::table.on(is_pdf))
        .filter(documents::building_id.eq(building.0))
        .filter(documents::turnover_id.gt(after.0))
        .order(documents::turnover_id)
        .limit(CHUNK)
        .select((
            documents::turnover_id,
            documents::number,
            documents::sha256,
            document_forms::sha256.nullable(),
        ))
        .load(conn)?;
    let records = rows.into_iter().filter_map(|(turnover, number, page, pdf)| {
        Some((TurnoverId(turnover?), RecordSums { number, page, pdf }))
    });
    Ok(records.collect())
}

fn addresses(
    conn: &mut AnyConnection,
    who: impl Iterator<Item = PersonId>,
) -> Result<HashMap<PersonId, String>> {
    let mut keys: Vec<i64> = who.map(|person| person.0).collect();
    keys.sort_unstable();
    keys.dedup();
    let rows: Vec<(i64, String)> = people::table
        .filter(people::id.eq_any(keys))
        .select((people::id, people::email))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(id, email)| (PersonId(id), email))
        .collect())
}
