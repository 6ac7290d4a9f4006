//! The work of the year ahead, by technician and week: rows are counted by the database, a slice at a time so that those of millions
//! are never in memory at once, then each day's sums are followed from date to date by the rule of their schedule.

use std::collections::{BTreeMap, HashMap};

use chrono::{Datelike, Days, Months, NaiveDate};
use diesel::dsl::count_star;
use diesel::prelude::*;

use super::desk::Desk;
use crate::domain::due::{Book, ClosedDays, coming};
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId};
use crate::error::Result;
use crate::store::schema::due_items;
use crate::store::{AnyConnection, calendars};

/// Weeks in which a year ahead lies, this one included; of the last one only the days before the year is over count.
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

/// Due date, schedule, check, building, how many rows.
type Group = (NaiveDate, i64, i64, i64, i64);

/// So many buildings are read at a time when not all are seen.
const BUILDINGS: usize = 200;

/// A part of the rows that is read in one statement, small enough to be kept.
enum Slice {
    /// Of every building, due from a day and to another; none for no bound.
    Days(Option<NaiveDate>, NaiveDate),
    /// Of some buildings.
    Buildings(Vec<i64>),
}

/// The work of a year from `today` on, by week, in the buildings of the desk, or in one of them. Each check is taken as done on the day it
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
    // A day more, and what is done today would be counted again a year on.
    let last = today
        .checked_add_months(Months::new(12))
        .and_then(|day| day.pred_opt())
        .unwrap_or(NaiveDate::MAX);
    let technicians: HashMap<i64, Option<PersonId>> = desk
        .places
        .iter()
        .map(|place| (place.id.0, place.technician))
        .collect();
    // Closed days move some schedules' dates, each building's own; of the others it does not matter where they are.
    let moves = |schedule: i64| {
        let schedule = book.schedule(ScheduleId(schedule));
        schedule.is_some_and(|schedule| schedule.terms.timing.moving().asks_for_closed_days())
    };
    let closed = closed_days(conn, book, first)?;
    let always_open = ClosedDays::none();
    let mut load = Load::new();
    for slice in slices(desk, building, first, last) {
        let mut sums: BTreeMap<Alike, i64> = BTreeMap::new();
        for (due, schedule, check, building, count) in groups(conn, &slice, last)? {
            let alike = Alike {
                due,
                schedule,
                check,
                technician: technicians.get(&building).copied().flatten(),
                building: moves(schedule).then_some(BuildingId(building)),
            };
            *sums.entry(alike).or_default() += count;
        }
        for (alike, count) in sums {
            let (schedule, check) = (ScheduleId(alike.schedule), CheckId(alike.check));
            let (Some(schedule), Some(asked)) = (book.schedule(schedule), desk.checks.get(&check)) else {
                continue;
            };
            let who = schedule.terms.technician.or(alike.technician);
            let weeks = load.entry(who).or_default();
            let closed = alike.building.and_then(|building| closed.get(&building));
            let closed = closed.unwrap_or(&always_open);
            let days = coming(&schedule.terms.timing, alike.due, today, closed);
            for day in days.take_while(|day| *day <= last) {
                add(weeks, (day - first).num_days(), count, asked.minutes);
            }
        }
    }
    Ok(load)
}

/// Rows that come due alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Alike {
    due: NaiveDate,
    schedule: i64,
    check: i64,
    technician: Option<PersonId>,
    /// None where closed days move nothing.
    building: Option<BuildingId>,
}

/// The closed days of buildings that have any, when a schedule asks for them.
fn closed_days(
    conn: &mut AnyConnection,
    book: &Book,
    first: NaiveDate,
) -> Result<HashMap<BuildingId, ClosedDays>> {
    let mut schedules = book.schedules();
    if !schedules.any(|schedule| schedule.terms.timing.moving().asks_for_closed_days()) {
        return Ok(HashMap::new());
    }
    let each = calendars::all(conn)?.into_iter();
    Ok(each
        .map(|(building, calendar)| (building, ClosedDays::of(calendar, first)))
        .collect())
}

/// All rows until the last day, in slices: week by week along an index when every building is seen, else some buildings at a time.
fn slices(desk: &Desk, building: Option<BuildingId>, first: NaiveDate, last: NaiveDate) -> Vec<Slice> {
    let keys: Vec<i64> = match building {
        Some(building) => desk.place(building).map(|place| place.id.0).into_iter().collect(),
        None if desk.sees_all => {
            let before = first.pred_opt().unwrap_or(first);
            let weeks = first.iter_weeks().take_while(|monday| *monday <= last);
            let ends = |monday: NaiveDate| monday.checked_add_days(Days::new(6)).unwrap_or(monday);
            let each = weeks.map(|monday| Slice::Days(Some(monday), ends(monday)));
            return std::iter::once(Slice::Days(None, before)).chain(each).collect();
        }
        None => desk.places.iter().map(|place| place.id.0).collect(),
    };
    keys.chunks(BUILDINGS)
        .map(|keys| Slice::Buildings(keys.to_vec()))
        .collect()
}

fn groups(conn: &mut AnyConnection, slice: &Slice, last: NaiveDate) -> Result<Vec<Group>> {
    let columns = (
        due_items::due,
        due_items::schedule_id,
        due_items::check_id,
        due_items::building_id,
    );
    let mut query = due_items::table
        .group_by(columns)
        .select((
            due_items::due,
            due_items::schedule_id,
            due_items::check_id,
            due_items::building_id,
            count_star(),
        ))
        .into_boxed();
    match slice {
        Slice::Days(from, to) => {
            query = query.filter(due_items::due.le(*to));
            if let Some(from) = from {
                query = query.filter(due_items::due.ge(*from));
            }
        }
        Slice::Buildings(keys) => {
            query = query
                .filter(due_items::building_id.eq_any(keys.clone()))
                .filter(due_items::due.le(last));
        }
    }
    Ok(query.load(conn)?)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts of due rows are far below the 15 digits that a floating-point number keeps"
)]
fn add(weeks: &mut Weeks, days: i64, count: i64, minutes: f64) {
    let Ok(week) = usize::try_from(days / 7) else {
        return;
    };
    // Begun on a Sunday, a year with a leap day ends on the Monday after these weeks.
    let week = week.min(WEEKS - 1);
    if let Some(checks) = weeks.checks.get_mut(week) {
        *checks += u64::try_from(count).unwrap_or_default();
    }
    if let Some(sum) = weeks.minutes.get_mut(week) {
        *sum += count as f64 * minutes;
    }
}
