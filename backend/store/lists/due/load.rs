//! The work of the year ahead, by technician and week: counted in groups of equal rows, so that a fleet of millions is a few thousand
//! groups, then followed from date to date by the rule of each group's schedule.

use std::collections::{BTreeMap, HashMap};

use chrono::{Datelike, Days, NaiveDate};
use diesel::dsl::count_star;
use diesel::prelude::*;

use super::desk::Desk;
use crate::domain::due::{Book, ClosedDays, coming};
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId};
use crate::error::Result;
use crate::store::schema::{buildings, due_items};
use crate::store::{AnyConnection, calendars};

/// Weeks that are looked at, this one included.
pub const WEEKS: usize = 53;

/// The work of somebody.
#[derive(Debug, Clone, PartialEq)]
pub struct Weeks {
    /// Checks in each week.
    pub checks: Vec<u64>,
    /// Minutes of work in each week.
    pub minutes: Vec<f64>,
}

impl Default for Weeks {
    fn default() -> Self {
        Self {
            checks: vec![0; WEEKS],
            minutes: vec![0.0; WEEKS],
        }
    }
}

/// The work by person; none for what nobody is named for.
pub type Load = BTreeMap<Option<PersonId>, Weeks>;

/// The Monday of a day's week.
#[must_use]
pub fn monday(day: NaiveDate) -> NaiveDate {
    let into_week = u64::from(day.weekday().num_days_from_monday());
    day.checked_sub_days(Days::new(into_week)).unwrap_or(day)
}

/// Equal rows.
struct Group {
    schedule: ScheduleId,
    check: CheckId,
    due: NaiveDate,
    technician: Option<PersonId>,
    /// None where closed days move nothing.
    building: Option<BuildingId>,
    count: i64,
}

/// The work from the week of `today` on in the buildings of the desk, or in one of them. Each check is taken as done on the day it
/// comes due, what is past that as done today.
///
/// # Errors
/// When the database does not answer.
pub fn load(
    conn: &mut AnyConnection,
    desk: &Desk,
    book: &Book,
    building: Option<BuildingId>,
    today: NaiveDate,
) -> Result<Load> {
    let first = monday(today);
    let span = u64::try_from(WEEKS * 7 - 1).unwrap_or(u64::MAX);
    let last = first.checked_add_days(Days::new(span)).unwrap_or(NaiveDate::MAX);
    let keys: Option<Vec<i64>> = match building {
        Some(building) => Some(desk.place(building).map(|place| place.id.0).into_iter().collect()),
        None if desk.sees_all => None,
        None => Some(desk.places.iter().map(|place| place.id.0).collect()),
    };
    let moving = book
        .schedules()
        .filter(|schedule| schedule.terms.timing.moving().asks_for_closed_days());
    let moving: Vec<i64> = moving.map(|schedule| schedule.id.0).collect();
    let mut groups = staying(conn, keys.as_deref(), &moving, last)?;
    let mut closed: HashMap<BuildingId, ClosedDays> = HashMap::new();
    if !moving.is_empty() {
        groups.extend(moved(conn, keys.as_deref(), &moving, last)?);
        for (building, calendar) in calendars::all(conn)? {
            closed.insert(building, ClosedDays::of(calendar, first));
        }
    }
    let always_open = ClosedDays::none();
    let mut load = Load::new();
    for group in groups {
        let (Some(schedule), Some(asked)) = (book.schedule(group.schedule), desk.checks.get(&group.check))
        else {
            continue;
        };
        let who = schedule.terms.technician.or(group.technician);
        let weeks = load.entry(who).or_default();
        let closed = group.building.and_then(|building| closed.get(&building));
        let days = coming(
            &schedule.terms.timing,
            group.due,
            today,
            closed.unwrap_or(&always_open),
        );
        for day in days.take_while(|day| *day <= last) {
            add(weeks, (day - first).num_days(), group.count, asked.minutes);
        }
    }
    Ok(load)
}

/// Rows of schedules that closed days move nothing of, whatever their building.
fn staying(
    conn: &mut AnyConnection,
    keys: Option<&[i64]>,
    moving: &[i64],
    last: NaiveDate,
) -> Result<Vec<Group>> {
    let mut query = due_items::table
        .inner_join(buildings::table)
        .filter(due_items::due.le(last))
        .group_by((
            due_items::schedule_id,
            due_items::check_id,
            due_items::due,
            buildings::technician_id,
        ))
        .select((
            due_items::schedule_id,
            due_items::check_id,
            due_items::due,
            buildings::technician_id,
            count_star(),
        ))
        .into_boxed();
    if let Some(keys) = keys {
        query = query.filter(due_items::building_id.eq_any(keys));
    }
    if !moving.is_empty() {
        query = query.filter(due_items::schedule_id.ne_all(moving));
    }
    let rows: Vec<(i64, i64, NaiveDate, Option<i64>, i64)> = query.load(conn)?;
    let groups = rows
        .into_iter()
        .map(|(schedule, check, due, technician, count)| Group {
            schedule: ScheduleId(schedule),
            check: CheckId(check),
            due,
            technician: technician.map(PersonId),
            building: None,
            count,
        });
    Ok(groups.collect())
}

/// Rows of schedules that closed days move, by building.
fn moved(
    conn: &mut AnyConnection,
    keys: Option<&[i64]>,
    moving: &[i64],
    last: NaiveDate,
) -> Result<Vec<Group>> {
    let mut query = due_items::table
        .inner_join(buildings::table)
        .filter(due_items::due.le(last))
        .filter(due_items::schedule_id.eq_any(moving))
        .group_by((
            due_items::schedule_id,
            due_items::check_id,
            due_items::due,
            buildings::technician_id,
            due_items::building_id,
        ))
        .select((
            due_items::schedule_id,
            due_items::check_id,
            due_items::due,
            buildings::technician_id,
            due_items::building_id,
            count_star(),
        ))
        .into_boxed();
    if let Some(keys) = keys {
        query = query.filter(due_items::building_id.eq_any(keys));
    }
    let rows: Vec<(i64, i64, NaiveDate, Option<i64>, i64, i64)> = query.load(conn)?;
    let groups = rows
        .into_iter()
        .map(|(schedule, check, due, technician, building, count)| Group {
            schedule: ScheduleId(schedule),
            check: CheckId(check),
            due,
            technician: technician.map(PersonId),
            building: Some(BuildingId(building)),
            count,
        });
    Ok(groups.collect())
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts of due rows are far below the 15 digits that a floating-point number keeps"
)]
fn add(weeks: &mut Weeks, days: i64, count: i64, minutes: f64) {
    let Ok(week) = usize::try_from(days / 7) else {
        return;
    };
    if let Some(checks) = weeks.checks.get_mut(week) {
        *checks += u64::try_from(count).unwrap_or_default();
    }
    if let Some(sum) = weeks.minutes.get_mut(week) {
        *sum += count as f64 * minutes;
    }
}
