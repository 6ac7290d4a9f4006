//! What a technician's digest is made of: due checks, open turnovers and open deficiencies that are theirs, of the buildings that
//! they may see.

use std::collections::BTreeSet;

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::digest::{DueCheck, OpenDeficiency, OpenTurnover};
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, PersonId};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::schema::{buildings, checks, deficiencies, due_items, people, schedules, turnovers, units};
use crate::store::turnovers::OPEN;

/// Somebody who gets digests.
#[derive(Debug, Clone, Queryable)]
pub struct Recipient {
    /// Key of the person.
    pub id: i64,
    /// As greeted.
    pub name: String,
    /// Address.
    pub email: String,
    /// IANA zone.
    pub time_zone: String,
    /// Local hour of the mail, 0 to 23.
    pub digest_hour: i64,
    /// Tag of the language that they read.
    pub language: String,
}

/// The active technicians, in the order of their keys.
///
/// # Errors
/// When the database does not answer.
pub fn recipients(conn: &mut AnyConnection) -> Result<Vec<Recipient>> {
    let found = people::table
        .filter(people::role.eq("technician").and(people::status.eq("active")))
        .order(people::id)
        .select((
            people::id,
            people::name,
            people::email,
            people::time_zone,
            people::digest_hour,
            people::language,
        ))
        .load(conn)?;
    Ok(found)
}

/// Checks of this technician that are due up to `until`: those whose schedule names them, and those of the buildings they look
/// after whose schedule names nobody; all within what they may see.
///
/// # Errors
/// When the database does not answer.
pub fn due_checks(
    conn: &mut AnyConnection,
    person: PersonId,
    scope: &Scope,
    until: NaiveDate,
) -> Result<Vec<DueCheck>> {
    let theirs = schedules::technician_id
        .eq(person.0)
        .assume_not_null()
        .or(schedules::technician_id
            .is_null()
            .and(buildings::technician_id.eq(person.0).assume_not_null()));
    let mut query = due_items::table
        .inner_join(schedules::table)
        .inner_join(buildings::table)
        .inner_join(units::table)
        .inner_join(checks::table)
        .filter(due_items::due.le(until))
        .filter(theirs)
        .select((
            due_items::unit_id,
            buildings::code,
            units::label,
            units::label_order,
            due_items::due,
            due_items::last_day,
            checks::minutes,
        ))
        .into_boxed();
    if let Scope::Buildings(seen) = scope {
        query = query.filter(due_items::building_id.eq_any(keys(seen)));
    }
    let rows: Vec<(i64, String, String, String, NaiveDate, NaiveDate, f64)> = query.load(conn)?;
    Ok(rows
        .into_iter()
        .map(
            |(unit, building, label, order, due, last_day, minutes)| DueCheck {
                unit,
                building,
                label,
                order,
                due,
                last_day,
                minutes,
            },
        )
        .collect())
}

/// Open turnovers of the buildings that this technician looks after and may see: unit, stage as its code, move-in.
///
/// # Errors
/// When the database does not answer.
pub fn open_turnovers(
    conn: &mut AnyConnection,
    person: PersonId,
    scope: &Scope,
) -> Result<Vec<OpenTurnover>> {
    let mut query = turnovers::table
        .inner_join(buildings::table)
        .inner_join(units::table)
        .filter(buildings::technician_id.eq(person.0))
        .filter(turnovers::stage.eq_any(OPEN))
        .select((
            buildings::code,
            units::label,
            turnovers::stage,
            turnovers::move_in_on,
        ))
        .into_boxed();
    if let Scope::Buildings(seen) = scope {
        query = query.filter(turnovers::building_id.eq_any(keys(seen)));
    }
    let rows: Vec<(String, String, String, NaiveDate)> = query.load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(building, label, stage, move_in)| OpenTurnover {
            building,
            label,
            stage,
            move_in,
        })
        .collect())
}

type DeficiencyRow = (i64, String, String, String, String, String, Option<NaiveDateTime>);

/// Deficiencies that are not closed and are this technician's: assigned to them, or to nobody in the buildings they look after;
/// all within what they may see. Instants are answered in the building's local time.
///
/// # Errors
/// When the database does not answer.
pub fn open_deficiencies(
    conn: &mut AnyConnection,
    person: PersonId,
    scope: &Scope,
) -> Result<Vec<OpenDeficiency>> {
    let unassigned = deficiencies::assignee_id
        .is_null()
        .and(deficiencies::vendor.eq(""))
        .and(buildings::technician_id.eq(person.0).assume_not_null());
    let mut query = deficiencies::table
        .inner_join(buildings::table)
        .inner_join(units::table)
        .filter(deficiencies::status.ne("closed"))
        .filter(
            deficiencies::assignee_id
                .eq(person.0)
                .assume_not_null()
                .or(unassigned),
        )
        .select((
            deficiencies::id,
            buildings::code,
            units::label,
            deficiencies::title,
            deficiencies::severity,
            buildings::time_zone,
            deficiencies::correct_by,
        ))
        .into_boxed();
    if let Scope::Buildings(seen) = scope {
        query = query.filter(deficiencies::building_id.eq_any(keys(seen)));
    }
    let rows: Vec<DeficiencyRow> = query.load(conn)?;
    rows.into_iter()
        .map(|(number, building, label, title, severity, zone, correct_by)| {
            let zone: chrono_tz::Tz = zone.parse().map_err(Error::internal)?;
            let local = |utc: NaiveDateTime| utc.and_utc().with_timezone(&zone).naive_local();
            let severity = Severity::from_code(&severity).map_err(Error::internal)?;
            Ok(OpenDeficiency {
                number,
                building,
                label,
                title,
                severity,
                correct_by: correct_by.map(local),
            })
        })
        .collect()
}

fn keys(buildings: &BTreeSet<BuildingId>) -> Vec<i64> {
    buildings.iter().map(|building| building.0).collect()
}
