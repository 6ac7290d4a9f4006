//! Visits and what they serve, within what a person may see. Decides nothing: which state follows which is the action's.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use super::coded::{part_code, read_code, read_part};
use super::schema::{visit_items, visits};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, FixtureId, PersonId, UnitId, VisitId};
use crate::domain::visit::{Service, Visit, VisitStatus};
use crate::error::{Error, Result};
use crate::on_each;

/// Rows of one statement.
const CHUNK: usize = 200;

#[derive(Queryable)]
struct Row {
    id: i64,
    building_id: i64,
    unit_id: i64,
    on_date: NaiveDate,
    technician_id: Option<i64>,
    status: String,
    reason: String,
    note: String,
    created_at: NaiveDateTime,
    _created_by: Option<i64>,
    closed_at: Option<NaiveDateTime>,
}

impl Row {
    fn read(self) -> Result<Visit> {
        Ok(Visit {
            id: VisitId(self.id),
            building: BuildingId(self.building_id),
            unit: UnitId(self.unit_id),
            on_date: self.on_date,
            technician: self.technician_id.map(PersonId),
            status: read_code(&self.status)?,
            reason: self.reason,
            note: self.note,
            created_at: self.created_at,
            closed_at: self.closed_at,
        })
    }
}

/// Stores a visit; its `id` is not looked at.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, visit: &Visit, created_by: Option<PersonId>) -> Result<VisitId> {
    let id: i64 = diesel::insert_into(visits::table)
        .values((
            visits::building_id.eq(visit.building.0),
            visits::unit_id.eq(visit.unit.0),
            visits::on_date.eq(visit.on_date),
            visits::technician_id.eq(visit.technician.map(|person| person.0)),
            visits::status.eq(visit.status.code()),
            visits::reason.eq(&visit.reason),
            visits::note.eq(&visit.note),
            visits::created_at.eq(visit.created_at),
            visits::created_by.eq(created_by.map(|person| person.0)),
            visits::closed_at.eq(visit.closed_at),
        ))
        .returning(visits::id)
        .get_result(&mut **tx)?;
    Ok(VisitId(id))
}

/// Writes a visit as it is now.
///
/// # Errors
/// When the database refuses.
pub fn update(tx: &mut Tx<'_>, visit: &Visit) -> Result<()> {
    diesel::update(visits::table.find(visit.id.0))
        .set((
            visits::on_date.eq(visit.on_date),
            visits::technician_id.eq(visit.technician.map(|person| person.0)),
            visits::status.eq(visit.status.code()),
            visits::reason.eq(&visit.reason),
            visits::note.eq(&visit.note),
            visits::closed_at.eq(visit.closed_at),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Adds what a visit serves; the caller leaves out what it serves already.
///
/// # Errors
/// When the database refuses.
pub fn add_services(tx: &mut Tx<'_>, visit: VisitId, services: &[Service]) -> Result<()> {
    for chunk in services.chunks(CHUNK) {
        let rows: Vec<_> = chunk
            .iter()
            .map(|service| {
                let (fixture, part, check, deficiency) = match service {
                    Service::Check { fixture, part, check } => {
                        (Some(fixture.0), part_code(*part), Some(check.0), None)
                    }
                    Service::Repair(deficiency) => (None, "", None, Some(deficiency.0)),
                };
                (
                    visit_items::visit_id.eq(visit.0),
                    visit_items::fixture_id.eq(fixture),
                    visit_items::part.eq(part),
                    visit_items::check_id.eq(check),
                    visit_items::deficiency_id.eq(deficiency),
                )
            })
            .collect();
        on_each!(&mut **tx, inner => diesel::insert_into(visit_items::table).values(&rows).execute(inner))?;
    }
    Ok(())
}

/// One visit within a scope.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn find(conn: &mut AnyConnection, scope: &Scope, id: VisitId) -> Result<Visit> {
    let row: Option<Row> = visits::table.find(id.0).first(conn).optional()?;
    row.filter(|row| scope.sees(BuildingId(row.building_id)))
        .ok_or_else(|| Error::not_found("such visit"))?
        .read()
}

/// What a visit serves, in the order in which it was chosen.
///
/// # Errors
/// When the database does not answer.
pub fn services(conn: &mut AnyConnection, visit: VisitId) -> Result<Vec<Service>> {
    Ok(services_of(conn, &[visit])?
        .into_iter()
        .map(|(_, service)| service)
        .collect())
}

type ItemRow = (i64, Option<i64>, String, Option<i64>, Option<i64>);

/// What each of these visits serves.
///
/// # Errors
/// When the database does not answer.
pub fn services_of(conn: &mut AnyConnection, of: &[VisitId]) -> Result<Vec<(VisitId, Service)>> {
    let rows: Vec<ItemRow> = visit_items::table
        .filter(visit_items::visit_id.eq_any(of.iter().map(|visit| visit.0)))
        .order(visit_items::id)
        .select((
            visit_items::visit_id,
            visit_items::fixture_id,
            visit_items::part,
            visit_items::check_id,
            visit_items::deficiency_id,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(visit, fixture, part, check, deficiency)| {
            let service = match (fixture, check, deficiency) {
                (Some(fixture), Some(check), _) => Service::Check {
                    fixture: FixtureId(fixture),
                    part: read_part(&part)?,
                    check: CheckId(check),
                },
                (_, _, Some(deficiency)) => Service::Repair(DeficiencyId(deficiency)),
                _ => {
                    return Err(Error::internal(format!(
                        "an item of visit {visit} serves nothing"
                    )));
                }
            };
            Ok((VisitId(visit), service))
        })
        .collect()
}

/// The visits into a unit that are still planned, by day.
///
/// # Errors
/// When the database does not answer.
pub fn planned_in(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Visit>> {
    let rows: Vec<Row> = visits::table
        .filter(visits::unit_id.eq(unit.0))
        .filter(visits::status.eq(VisitStatus::Planned.code()))
        .order((visits::on_date, visits::id))
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// At most `limit` planned visits up to a local date, of a person or of nobody, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn planned_until(
    conn: &mut AnyConnection,
    scope: &Scope,
    technician: Option<PersonId>,
    until: NaiveDate,
    limit: i64,
) -> Result<Vec<Visit>> {
    let mut query = visits::table
        .filter(visits::status.eq(VisitStatus::Planned.code()))
        .filter(visits::on_date.le(until))
        .order((visits::on_date.desc(), visits::id.desc()))
        .limit(limit)
        .into_boxed();
    query = match technician {
        Some(person) => query.filter(visits::technician_id.eq(person.0)),
        None => query.filter(visits::technician_id.is_null()),
    };
    if let Some(keys) = super::buildings::keys_of(scope) {
        query = query.filter(visits::building_id.eq_any(keys));
    }
    let rows: Vec<Row> = query.load(conn)?;
    rows.into_iter().map(Row::read).collect()
}
