//! The work of the year ahead, by technician and week: counted in groups of equal rows, so that a fleet of millions is a few thousand
//! groups, then followed from date to date by the rule of each group's schedule.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};
use diesel::dsl::count_star;
use diesel::prelude::*;

use super::desk::Desk;
use crate::domain::due::{Book, coming};
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schema::{buildings, due_items};

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

/// Schedule, check, due date, the building's technician, how many rows.
type Group = (i64, i64, NaiveDate, Option<i64>, i64);

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
    let keys: Option<Vec<i64>> = match building {
        Some(building) => Some(desk.place(building).map(|place| place.id.0).into_iter().collect()),
        None if desk.sees_all => None,
        None => Some(desk.places.iter().map(|place| place.id.0).collect()),
    };
    if let Some(keys) = keys {
        query = query.filter(due_items::building_id.eq_any(keys));
    }
    let groups: Vec<Group> = query.load(conn)?;
    let mut load = Load::new();
    for (schedule, check, due, technician, count) in groups {
        let (schedule, check) = (ScheduleId(schedule), CheckId(check));
        let (Some(schedule), Some(asked)) = (book.schedule(schedule), desk.checks.get(&check)) else {
            continue;
        };
        let who = schedule.terms.technician.or(technician.map(PersonId));
        let weeks = load.entry(who).or_default();
        for day in coming(&schedule.terms.timing, due, today).take_while(|day| *day <= last) {
            add(weeks, (day - first).num_days(), count, asked.minutes);
        }
    }
    Ok(load)
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
