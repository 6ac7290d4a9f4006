//! What was said of emergencies, and the numbers that a building has of its own. A report is appended once and never changed.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use uuid::Uuid;

use super::coded::read_code;
use super::schema::{building_numbers, buildings, people, units, urgent_reports};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded as _;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, PersonId, UnitId};
use crate::domain::trade::urgent::{Contact, Urgency};
use crate::error::Result;
use crate::on_each;
use crate::store::buildings::keys_of;

/// That somebody said something is urgent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReport<'a> {
    /// Made by whoever reports; a second report with the same id is not stored.
    pub client_id: Uuid,
    /// What it is.
    pub kind: Urgency,
    /// Where, when that was said.
    pub building: Option<BuildingId>,
    /// Where, when that was said.
    pub unit: Option<UnitId>,
    /// Who.
    pub person: PersonId,
    /// Free text.
    pub note: &'a str,
    /// UTC, corrected by the phone's clock.
    pub said_at: NaiveDateTime,
}

/// Stores a report; false when there is one with the same id.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, report: &NewReport<'_>, now: NaiveDateTime) -> Result<bool> {
    let row = (
        urgent_reports::client_id.eq(report.client_id.to_string()),
        urgent_reports::kind.eq(report.kind.code()),
        urgent_reports::building_id.eq(report.building.map(|id| id.0)),
        urgent_reports::unit_id.eq(report.unit.map(|id| id.0)),
        urgent_reports::person_id.eq(report.person.0),
        urgent_reports::note.eq(report.note),
        urgent_reports::said_at.eq(report.said_at),
        urgent_reports::received_at.eq(now),
    );
    let stored = on_each!(&mut **tx, inner => diesel::insert_into(urgent_reports::table)
        .values(row)
        .on_conflict(urgent_reports::client_id)
        .do_nothing()
        .execute(inner))?;
    Ok(stored == 1)
}

/// A report with the words that people know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reported {
    /// Its number.
    pub id: i64,
    /// What it is.
    pub kind: Urgency,
    /// The building's code and name, and its zone, when that was said.
    pub building: Option<(String, String, chrono_tz::Tz)>,
    /// The unit and its label, when that was said.
    pub unit: Option<(UnitId, String)>,
    /// Who.
    pub person: String,
    /// Free text.
    pub note: String,
    /// UTC.
    pub said_at: NaiveDateTime,
    /// UTC.
    pub received_at: NaiveDateTime,
}

type Columns = (
    (i64, String, String),
    Option<(String, String, String)>,
    Option<(i64, String)>,
    String,
    (NaiveDateTime, NaiveDateTime),
);

/// The latest reports, at most `limit`: those of the buildings that the scope sees, and those that name none.
///
/// # Errors
/// When the database does not answer.
pub fn latest(conn: &mut AnyConnection, scope: &Scope, limit: i64) -> Result<Vec<Reported>> {
    let mut query = urgent_reports::table
        .inner_join(people::table)
        .left_join(buildings::table)
        .left_join(units::table)
        .order(urgent_reports::id.desc())
        .limit(limit)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        let seen = urgent_reports::building_id.eq_any(keys).assume_not_null();
        query = query.filter(urgent_reports::building_id.is_null().or(seen));
    }
    let rows: Vec<Columns> = query
        .select((
            (urgent_reports::id, urgent_reports::kind, urgent_reports::note),
            (buildings::code, buildings::name, buildings::time_zone).nullable(),
            (units::id, units::label).nullable(),
            people::name,
            (urgent_reports::said_at, urgent_reports::received_at),
        ))
        .load(conn)?;
    rows.into_iter()
        .map(
            |((id, kind, note), building, unit, person, (said_at, received_at))| {
                let building = building
                    .map(|(code, name, zone)| (code, name, zone.parse().unwrap_or(chrono_tz::Tz::UTC)));
                Ok(Reported {
                    id,
                    kind: read_code(&kind)?,
                    building,
                    unit: unit.map(|(id, label)| (UnitId(id), label)),
                    person,
                    note,
                    said_at,
                    received_at,
                })
            },
        )
        .collect()
}

/// The numbers that a building has of its own.
///
/// # Errors
/// When the database does not answer. The caller may see the building.
pub fn numbers_of(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<(Contact, String)>> {
    let rows: Vec<(String, String)> = building_numbers::table
        .filter(building_numbers::building_id.eq(building.0))
        .order(building_numbers::contact)
        .select((building_numbers::contact, building_numbers::number))
        .load(conn)?;
    rows.into_iter()
        .map(|(contact, number)| Ok((read_code(&contact)?, number)))
        .collect()
}

/// Sets the numbers that a building has of its own, and forgets the others.
///
/// # Errors
/// When the database refuses.
pub fn set_numbers(tx: &mut Tx<'_>, building: BuildingId, numbers: &[(Contact, String)]) -> Result<()> {
    diesel::delete(building_numbers::table.filter(building_numbers::building_id.eq(building.0)))
        .execute(&mut **tx)?;
    for (contact, number) in numbers {
        diesel::insert_into(building_numbers::table)
            .values((
                building_numbers::building_id.eq(building.0),
                building_numbers::contact.eq(contact.code()),
                building_numbers::number.eq(number),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}
