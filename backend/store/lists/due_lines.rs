//! Due items of one unit or one fixture, with the words that a page shows.

use std::collections::HashMap;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded as _;
use crate::domain::due::{Basis, Cadence, Vacancy, Window};
use crate::domain::register::{BuildingId, FixtureId, ScheduleId, UnitId};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::coded::read_part;
use crate::store::schema::{checks, due_items, fixtures, schedules, tags};

/// One due item.
#[derive(Debug, Clone)]
pub struct DueLine {
    /// On which fixture.
    pub fixture: FixtureId,
    /// At which place.
    pub tag: String,
    /// Of which part, none for the fixture itself.
    pub part: Option<PartKind>,
    /// The check's code.
    pub check: String,
    /// Its version.
    pub version: u32,
    /// The check in a few words.
    pub title: String,
    /// When.
    pub window: Window,
    /// The due date before it was moved; none when it was not.
    pub moved_from: Option<NaiveDate>,
    /// The schedule that asks first.
    pub schedule: ScheduleId,
    /// Its code and its name.
    pub asked_by: (String, String),
    /// How it comes round.
    pub cadence: Cadence,
    /// Why it counts from that day.
    pub basis: Basis,
    /// The day it counts from.
    pub counts_from: NaiveDate,
}

/// What is due in a unit: what is open by a day, and what comes later.
#[derive(Debug, Clone, Default)]
pub struct UnitDue {
    /// Items whose window is open or past, the most overdue first.
    pub lines: Vec<DueLine>,
    /// How many items there are whose window opens later.
    pub later: i64,
    /// The first day on which one of those opens.
    pub next_opens: Option<NaiveDate>,
}

type Row = (
    (i64, String, String, String, i64, String),
    (NaiveDate, NaiveDate, NaiveDate, Option<NaiveDate>),
    (i64, String, String, String, String),
    (String, NaiveDate),
);

macro_rules! columns {
    () => {
        (
            (
                due_items::fixture_id,
                tags::label,
                due_items::part,
                checks::code,
                checks::version,
                checks::title,
            ),
            (
                due_items::opens,
                due_items::due,
                due_items::last_day,
                due_items::moved_from,
            ),
            (
                due_items::schedule_id,
                schedules::code,
                schedules::name,
                schedules::anchor,
                schedules::vacancy,
            ),
            (due_items::basis, due_items::counts_from),
        )
    };
}

/// Due items with their checks, places and schedules.
macro_rules! joined {
    () => {
        due_items::table
            .inner_join(checks::table.on(checks::id.eq(due_items::check_id)))
            .inner_join(fixtures::table.on(fixtures::id.eq(due_items::fixture_id)))
            .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
            .inner_join(schedules::table.on(schedules::id.eq(due_items::schedule_id)))
    };
}

fn line(row: Row) -> Result<DueLine> {
    let (what, (opens, due, last_day, moved_from), asking, (basis, counts_from)) = row;
    let (fixture, tag, part, check, version, title) = what;
    let (schedule, code, name, anchor, vacancy) = asking;
    let broken = |what: &str| Error::internal(format!("due item of fixture {fixture}: {what}"));
    let vacancy = Vacancy::from_code(&vacancy).map_err(Error::internal)?;
    Ok(DueLine {
        fixture: FixtureId(fixture),
        tag,
        part: read_part(&part)?,
        check,
        version: u32::try_from(version).map_err(Error::internal)?,
        title,
        window: Window::from_days(opens, due, last_day).ok_or_else(|| broken("its days are out of order"))?,
        moved_from,
        schedule: ScheduleId(schedule),
        asked_by: (code, name),
        cadence: Cadence::of(&anchor, vacancy).ok_or_else(|| broken("its schedule has no anchor"))?,
        basis: Basis::from_code(&basis).ok_or_else(|| broken("it counts from nothing"))?,
        counts_from,
    })
}

/// What is due in a unit that the caller may see.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId, today: NaiveDate) -> Result<UnitDue> {
    let rows: Vec<Row> = joined!()
        .filter(due_items::unit_id.eq(unit.0))
        .filter(due_items::opens.le(today))
        .order((
            due_items::last_day,
            tags::label_order,
            due_items::part,
            checks::code,
        ))
        .select(columns!())
        .load(conn)?;
    let (later, next_opens): (i64, Option<NaiveDate>) = due_items::table
        .filter(due_items::unit_id.eq(unit.0))
        .filter(due_items::opens.gt(today))
        .select((diesel::dsl::count_star(), diesel::dsl::min(due_items::opens)))
        .first(conn)?;
    Ok(UnitDue {
        lines: rows.into_iter().map(line).collect::<Result<_>>()?,
        later,
        next_opens,
    })
}

/// Every due item of a fixture that the caller may see, the earliest last day first.
///
/// # Errors
/// When the database does not answer.
pub fn of_fixture(conn: &mut AnyConnection, fixture: FixtureId) -> Result<Vec<DueLine>> {
    let rows: Vec<Row> = joined!()
        .filter(due_items::fixture_id.eq(fixture.0))
        .order((due_items::last_day, due_items::part, checks::code))
        .select(columns!())
        .load(conn)?;
    rows.into_iter().map(line).collect()
}

/// The due date of each item, by fixture, part and check as the database has them.
pub type Dates = HashMap<(i64, String, i64), NaiveDate>;

/// The due date of every item of a building, so that a change can say how many it moved.
///
/// # Errors
/// When the database does not answer.
pub fn dates_of(conn: &mut AnyConnection, building: BuildingId) -> Result<Dates> {
    let rows: Vec<(i64, String, i64, NaiveDate)> = due_items::table
        .filter(due_items::building_id.eq(building.0))
        .select((
            due_items::fixture_id,
            due_items::part,
            due_items::check_id,
            due_items::due,
        ))
        .load(conn)?;
    let dates = rows.into_iter();
    Ok(dates
        .map(|(fixture, part, check, due)| ((fixture, part, check), due))
        .collect())
}
