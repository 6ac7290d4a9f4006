//! What can be recorded in a unit or on a fixture: its due rows, for the pages on which answers are given.

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::due::Window;
use crate::domain::register::{CheckId, FixtureId, UnitId, VisitId};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::coded::read_part;
use crate::store::schema::{due_items, visit_items};

/// One due row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueRow {
    /// Of which fixture.
    pub fixture: FixtureId,
    /// Of which part.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// When it opens, is due and ends.
    pub window: Window,
}

type Row = (i64, String, i64, NaiveDate, NaiveDate, NaiveDate);

fn read((fixture, part, check, opens, due, last_day): Row) -> Result<DueRow> {
    Ok(DueRow {
        fixture: FixtureId(fixture),
        part: read_part(&part)?,
        check: CheckId(check),
        window: Window::from_days(opens, due, last_day)
            .ok_or_else(|| Error::internal(format!("due row of fixture {fixture} out of order")))?,
    })
}

macro_rules! columns {
    () => {
        (
            due_items::fixture_id,
            due_items::part,
            due_items::check_id,
            due_items::opens,
            due_items::due,
            due_items::last_day,
        )
    };
}

/// The due rows of a unit.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<DueRow>> {
    let rows: Vec<Row> = due_items::table
        .filter(due_items::unit_id.eq(unit.0))
        .select(columns!())
        .load(conn)?;
    rows.into_iter().map(read).collect()
}

/// The due rows of fixtures.
///
/// # Errors
/// When the database does not answer.
pub fn of_fixtures(conn: &mut AnyConnection, fixtures: &[FixtureId]) -> Result<Vec<DueRow>> {
    let rows: Vec<Row> = due_items::table
        .filter(due_items::fixture_id.eq_any(fixtures.iter().map(|fixture| fixture.0)))
        .select(columns!())
        .load(conn)?;
    rows.into_iter().map(read).collect()
}

/// The checks that a visit serves: fixture, part, check. Repairs are not among them.
///
/// # Errors
/// When the database does not answer.
pub fn of_visit(
    conn: &mut AnyConnection,
    visit: VisitId,
) -> Result<Vec<(FixtureId, Option<PartKind>, CheckId)>> {
    let rows: Vec<(Option<i64>, String, Option<i64>)> = visit_items::table
        .filter(visit_items::visit_id.eq(visit.0))
        .order(visit_items::id)
        .select((visit_items::fixture_id, visit_items::part, visit_items::check_id))
        .load(conn)?;
    rows.into_iter()
        .filter_map(|(fixture, part, check)| Some((fixture?, part, check?)))
        .map(|(fixture, part, check)| Ok((FixtureId(fixture), read_part(&part)?, CheckId(check))))
        .collect()
}
