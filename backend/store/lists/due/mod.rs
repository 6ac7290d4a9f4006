//! The due list: what is due in the buildings that a person sees, the most overdue first, by pages of a key. No recurrence runs and no
//! page is counted off: a page is one range of an index, and its words come from a second statement. The rows of pages are kept until a
//! due row changes.

mod counts;
mod desk;
mod filter;
pub mod load;
mod named;

use std::sync::Arc;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::due::{Basis, Window};
use crate::domain::register::{BuildingId, CheckId, FixtureId, PersonId, ScheduleId, UnitId};
use crate::domain::trade::{FixtureKind, PartKind, Severity};
use crate::error::{Error, Result};
use crate::kept::Kept;
use crate::store::AnyConnection;
use crate::store::coded::read_part;
use crate::store::due::last_change;
use crate::store::schema::due_items;

pub use counts::{Count, Counts, count_ahead, count_anew, of_buildings as counts};
pub use desk::{Asked, Asking, Desk, Place};
pub use filter::{By, Filter, Wanted};
use named::names;

/// What makes a due item one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Key {
    /// On which fixture.
    pub fixture: FixtureId,
    /// Of which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
}

/// The order of a list.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Order {
    /// The most overdue first, wherever it is.
    #[default]
    LastDay,
    /// Building by building in the order of their codes, the most overdue of each first.
    Building,
}

/// The last row of the page before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cursor {
    /// Where it is.
    pub building: BuildingId,
    /// The last day of its grace.
    pub last_day: NaiveDate,
    /// Which one it is.
    pub key: Key,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Which one it is.
    pub key: Key,
    /// In which building.
    pub building: BuildingId,
    /// Short code of the building.
    pub building_code: String,
    /// The date there now.
    pub today: NaiveDate,
    /// In which unit.
    pub unit: UnitId,
    /// As on the door.
    pub unit_label: String,
    /// Room, empty when none was named.
    pub room: String,
    /// Label of the place.
    pub tag: String,
    /// What stands there.
    pub kind: FixtureKind,
    /// Code of the check.
    pub check: String,
    /// Its version.
    pub version: u32,
    /// The check in a few words.
    pub title: String,
    /// How grave a failure is.
    pub severity: Severity,
    /// Minutes of work.
    pub minutes: f64,
    /// The schedule that asks first.
    pub asking: ScheduleId,
    /// Its code.
    pub schedule: String,
    /// Who does it.
    pub technician: Option<PersonId>,
    /// What it counts from.
    pub basis: Basis,
    /// The day it counts from.
    pub counts_from: NaiveDate,
    /// When.
    pub window: Window,
    /// The due date before it was moved; none when it was not.
    pub moved_from: Option<NaiveDate>,
}

impl Line {
    /// Where the next page begins after this row.
    #[must_use]
    pub fn cursor(&self) -> Cursor {
        Cursor {
            building: self.building,
            last_day: self.window.last_day(),
            key: self.key,
        }
    }
}

#[derive(Debug, Clone, Queryable)]
struct Row {
    fixture: i64,
    part: String,
    check: i64,
    building: i64,
    unit: i64,
    schedule: i64,
    basis: String,
    counts_from: NaiveDate,
    opens: NaiveDate,
    due: NaiveDate,
    last_day: NaiveDate,
    moved_from: Option<NaiveDate>,
}

/// At most `limit` rows after the cursor.
///
/// # Errors
/// When the database does not answer.
pub fn page(
    conn: &mut AnyConnection,
    desk: &Desk,
    filter: &Filter,
    order: Order,
    after: Option<&Cursor>,
    limit: usize,
) -> Result<Vec<Line>> {
    if desk.places.is_empty() {
        return Ok(Vec::new());
    }
    let rows = match order {
        Order::LastDay => rows(conn, desk, filter, after, limit)?,
        Order::Building => by_building(conn, desk, filter, after, limit)?.into(),
    };
    lines(conn, desk, &rows)
}

/// As [`page`] by last days, read now whatever was kept.
///
/// # Errors
/// When the database does not answer.
pub fn page_anew(
    conn: &mut AnyConnection,
    desk: &Desk,
    filter: &Filter,
    after: Option<&Cursor>,
    limit: usize,
) -> Result<Vec<Line>> {
    let rows = read(conn, desk, filter, after, limit)?;
    lines(conn, desk, &rows)
}

/// A page of more rows is not kept.
const MOST_KEPT: usize = 200;

/// Pages of rows that were read lately, by what they depend on and the last change of any due row; by weight a row each.
static READ: Kept<(String, i64), Arc<[Row]>> = Kept::new(20_000);

/// The rows of a page, as they were kept or read anew.
fn rows(
    conn: &mut AnyConnection,
    desk: &Desk,
    asked: &Filter,
    after: Option<&Cursor>,
    limit: usize,
) -> Result<Arc<[Row]>> {
    // A fixture's kind can change without any due row; a file is read once.
    if asked.kind.is_some() || limit > MOST_KEPT {
        return Ok(read(conn, desk, asked, after, limit)?.into());
    }
    let depends = format!("{} {asked:?} {after:?} {limit}", desk.counted_as);
    let key = (depends, last_change(conn)?);
    if let Some(rows) = READ.get(&key) {
        return Ok(rows);
    }
    let rows: Arc<[Row]> = read(conn, desk, asked, after, limit)?.into();
    READ.put_weighing(key, Arc::clone(&rows), rows.len() + 1);
    Ok(rows)
}

fn read(
    conn: &mut AnyConnection,
    desk: &Desk,
    asked: &Filter,
    after: Option<&Cursor>,
    limit: usize,
) -> Result<Vec<Row>> {
    let mut query = due_items::table
        .order((
            due_items::last_day,
            due_items::fixture_id,
            due_items::part,
            due_items::check_id,
        ))
        .limit(i64::try_from(limit).map_err(Error::internal)?)
        .select((
            due_items::fixture_id,
            due_items::part,
            due_items::check_id,
            due_items::building_id,
            due_items::unit_id,
            due_items::schedule_id,
            due_items::basis,
            due_items::counts_from,
            due_items::opens,
            due_items::due,
            due_items::last_day,
            due_items::moved_from,
        ))
        .into_boxed();
    let conditions = filter::of_state(conn, desk, asked)
        .into_iter()
        .chain(filter::of_scope(conn, desk, asked))
        .chain(filter::of_rows(desk, asked))
        .chain(
            after
                .into_iter()
                .map(|cursor| filter::after(cursor.last_day, &cursor.key)),
        );
    for condition in conditions {
        query = query.filter(condition);
    }
    Ok(query.load(conn)?)
}

/// Goes from building to building and leaves out those that have nothing.
fn by_building(
    conn: &mut AnyConnection,
    desk: &Desk,
    asked: &Filter,
    after: Option<&Cursor>,
    limit: usize,
) -> Result<Vec<Row>> {
    let counts = if asked.reaches_later() {
        None
    } else {
        Some(counts(conn, desk, asked)?)
    };
    let begun = after.and_then(|cursor| desk.places.iter().position(|place| place.id == cursor.building));
    let places = desk.places.iter().skip(begun.unwrap_or(0));
    let mut found = Vec::new();
    for place in places {
        let asks_here = asked.building.is_none_or(|building| building == place.id);
        let has_any = counts.as_ref().is_none_or(|counts| {
            let here = counts.get(place.id);
            here.is_some_and(|count| asked.asked_of(count) > 0)
        });
        if !asks_here || !has_any {
            continue;
        }
        let here = Filter {
            building: Some(place.id),
            ..asked.clone()
        };
        let after = after.filter(|cursor| cursor.building == place.id);
        found.extend_from_slice(&rows(conn, desk, &here, after, limit - found.len())?);
        if found.len() >= limit {
            break;
        }
    }
    Ok(found)
}

fn lines(conn: &mut AnyConnection, desk: &Desk, rows: &[Row]) -> Result<Vec<Line>> {
    let mut fixtures: Vec<i64> = rows.iter().map(|row| row.fixture).collect();
    fixtures.sort_unstable();
    fixtures.dedup();
    let names = names(conn, &fixtures)?;
    let broken = |row: &Row| {
        Error::internal(format!(
            "due row of fixture {} names what is not there",
            row.fixture
        ))
    };
    rows.iter()
        .map(|row| {
            let name = names.get(&row.fixture).ok_or_else(|| broken(row))?;
            let place = desk.place(BuildingId(row.building)).ok_or_else(|| broken(row))?;
            let check = desk.checks.get(&CheckId(row.check)).ok_or_else(|| broken(row))?;
            let schedule = ScheduleId(row.schedule);
            let asking = desk.schedules.get(&schedule).ok_or_else(|| broken(row))?;
            Ok(Line {
                key: Key {
                    fixture: FixtureId(row.fixture),
                    part: read_part(&row.part)?,
                    check: CheckId(row.check),
                },
                building: place.id,
                building_code: place.code.clone(),
                today: place.today,
                unit: UnitId(row.unit),
                unit_label: name.unit.clone(),
                room: name.room.clone(),
                tag: name.tag.clone(),
                kind: name.kind,
                check: check.code.clone(),
                version: check.version,
                title: check.title.clone(),
                severity: check.severity,
                minutes: check.minutes,
                asking: schedule,
                schedule: asking.code.clone(),
                technician: desk.technician(schedule, place),
                basis: Basis::from_code(&row.basis).ok_or_else(|| broken(row))?,
                counts_from: row.counts_from,
                window: Window::from_days(row.opens, row.due, row.last_day).ok_or_else(|| broken(row))?,
                moved_from: row.moved_from,
            })
        })
        .collect()
}
