//! The working days, public holidays and shut-down periods of buildings. A stored rule that can't be read is an error of ours.

use std::collections::HashMap;

use chrono::NaiveDate;
use diesel::prelude::*;

use super::among::among;
use super::coded::read_code;
use super::schema::{building_weeks, closings};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded as _;
use crate::domain::due::{Closing, WorkCalendar, WorkingDays, read_working_days};
use crate::domain::recurrence::Rule;
use crate::domain::register::{BuildingId, ClosingId};
use crate::error::{Error, Result};
use crate::kept::Kept;

type Row = (i64, i64, String, String, NaiveDate, String, i64);

/// Rules that were read lately: the buildings of an office have the same holidays.
static READ: Kept<(String, NaiveDate), Rule> = Kept::new(2_000);

fn rule(text: String, start: NaiveDate) -> Result<Rule> {
    let key = (text, start);
    if let Some(rule) = READ.get(&key) {
        return Ok(rule);
    }
    let rule = Rule::parse(&key.0, start).map_err(Error::internal)?;
    READ.put(key, rule.clone());
    Ok(rule)
}

fn read(row: Row) -> Result<(ClosingId, Closing)> {
    let (id, _, kind, name, start, text, days) = row;
    let rule = if text.is_empty() {
        None
    } else {
        Some(rule(text, start)?)
    };
    let closing = Closing {
        kind: read_code(&kind)?,
        name,
        start,
        rule,
        days: u16::try_from(days).map_err(Error::internal)?,
    };
    Ok((ClosingId(id), closing))
}

fn read_week(codes: &str) -> Result<WorkingDays> {
    read_working_days([codes]).map_err(|errors| Error::internal(format!("{errors:?}")))
}

/// The calendar of a building; every day is a working day when nobody said anything.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(conn: &mut AnyConnection, building: BuildingId) -> Result<WorkCalendar> {
    Ok(WorkCalendar {
        working_days: working_days(conn, building)?,
        closings: closings_of(conn, building)?
            .into_iter()
            .map(|(_, closing)| closing)
            .collect(),
    })
}

/// The working days of a building.
///
/// # Errors
/// When the database does not answer.
pub fn working_days(conn: &mut AnyConnection, building: BuildingId) -> Result<WorkingDays> {
    let codes: Option<String> = building_weeks::table
        .find(building.0)
        .select(building_weeks::working_days)
        .first(conn)
        .optional()?;
    codes.map_or_else(|| Ok(WorkingDays::default()), |codes| read_week(&codes))
}

/// Public holidays and shut-down periods of a building, by first day.
///
/// # Errors
/// When the database does not answer.
pub fn closings_of(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<(ClosingId, Closing)>> {
    let rows: Vec<Row> = closings::table
        .filter(closings::building_id.eq(building.0))
        .order(BY_DAY)
        .load(conn)?;
    rows.into_iter().map(read).collect()
}

/// The calendars of all buildings that say anything, read at once.
///
/// # Errors
/// When the database does not answer.
pub fn all(conn: &mut AnyConnection) -> Result<HashMap<BuildingId, WorkCalendar>> {
    let weeks = building_weeks::table.load(conn)?;
    let rows = closings::table.order(BY_DAY).load(conn)?;
    put_together(weeks, rows)
}

/// The calendars of those of some buildings that say anything; a page's worth of buildings.
///
/// # Errors
/// When the database does not answer.
pub fn of_buildings(
    conn: &mut AnyConnection,
    buildings: &[BuildingId],
) -> Result<HashMap<BuildingId, WorkCalendar>> {
    let keys: Vec<i64> = buildings.iter().map(|building| building.0).collect();
    let weeks = building_weeks::table
        .filter(among(conn, "building_weeks.building_id", &keys))
        .load(conn)?;
    let rows = closings::table
        .filter(among(conn, "closings.building_id", &keys))
        .order(BY_DAY)
        .load(conn)?;
    put_together(weeks, rows)
}

/// As files and pages list them.
const BY_DAY: (closings::start_on, closings::name, closings::id) =
    (closings::start_on, closings::name, closings::id);

fn put_together(weeks: Vec<(i64, String)>, rows: Vec<Row>) -> Result<HashMap<BuildingId, WorkCalendar>> {
    let mut calendars: HashMap<BuildingId, WorkCalendar> = HashMap::new();
    for (building, codes) in weeks {
        let calendar = calendars.entry(BuildingId(building)).or_default();
        calendar.working_days = read_week(&codes)?;
    }
    for row in rows {
        let building = BuildingId(row.1);
        let (_, closing) = read(row)?;
        calendars.entry(building).or_default().closings.push(closing);
    }
    Ok(calendars)
}

/// Makes the calendar of a building this one.
///
/// # Errors
/// When the database refuses.
pub fn set(tx: &mut Tx<'_>, building: BuildingId, calendar: &WorkCalendar) -> Result<()> {
    set_working_days(tx, building, calendar.working_days)?;
    diesel::delete(closings::table.filter(closings::building_id.eq(building.0))).execute(&mut **tx)?;
    for closing in &calendar.closings {
        add(tx, building, closing)?;
    }
    Ok(())
}

/// Sets the working days of a building.
///
/// # Errors
/// When the database refuses.
pub fn set_working_days(tx: &mut Tx<'_>, building: BuildingId, days: WorkingDays) -> Result<()> {
    diesel::delete(building_weeks::table.find(building.0)).execute(&mut **tx)?;
    if days != WorkingDays::default() {
        diesel::insert_into(building_weeks::table)
            .values((
                building_weeks::building_id.eq(building.0),
                building_weeks::working_days.eq(days.codes()),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// Adds a public holiday or a shut-down period.
///
/// # Errors
/// When the database refuses.
pub fn add(tx: &mut Tx<'_>, building: BuildingId, closing: &Closing) -> Result<()> {
    diesel::insert_into(closings::table)
        .values((
            closings::building_id.eq(building.0),
            closings::kind.eq(closing.kind.code()),
            closings::name.eq(closing.name.as_str()),
            closings::start_on.eq(closing.start),
            closings::rule.eq(closing.rule.as_ref().map_or("", Rule::text)),
            closings::days.eq(i64::from(closing.days)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// One of the public holidays and shut-down periods of a building.
///
/// # Errors
/// When the building has no such closed days or the database does not answer.
pub fn closing_of(conn: &mut AnyConnection, building: BuildingId, closing: ClosingId) -> Result<Closing> {
    let row: Option<Row> = closings::table
        .find(closing.0)
        .filter(closings::building_id.eq(building.0))
        .first(conn)
        .optional()?;
    let row = row.ok_or_else(|| Error::not_found("such closed days"))?;
    read(row).map(|(_, closing)| closing)
}

/// Makes one say something else.
///
/// # Errors
/// When the database refuses.
pub fn change(tx: &mut Tx<'_>, building: BuildingId, closing: ClosingId, to: &Closing) -> Result<()> {
    let known = closings::table
        .find(closing.0)
        .filter(closings::building_id.eq(building.0));
    diesel::update(known)
        .set((
            closings::kind.eq(to.kind.code()),
            closings::name.eq(to.name.as_str()),
            closings::start_on.eq(to.start),
            closings::rule.eq(to.rule.as_ref().map_or("", Rule::text)),
            closings::days.eq(i64::from(to.days)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Takes one away.
///
/// # Errors
/// When the database refuses.
pub fn remove(tx: &mut Tx<'_>, building: BuildingId, closing: ClosingId) -> Result<()> {
    let gone = closings::table
        .find(closing.0)
        .filter(closings::building_id.eq(building.0));
    diesel::delete(gone).execute(&mut **tx)?;
    Ok(())
}
