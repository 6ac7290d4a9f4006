//! What is on record of every fixture that stood in a building on a day: a line a fixture, in the order of a walk.

use std::collections::{HashMap, HashSet};

use chrono::{Days, NaiveDate, NaiveDateTime, TimeZone, Utc};
use chrono_tz::Tz;
use diesel::dsl::{max, min};
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::condition::{OnRecord, Open};
use crate::domain::due::Book;
use crate::domain::register::{Building, FixtureId, Installed, TagId};
use crate::domain::result::Outcome;
use crate::domain::trade::{FixtureKind, Severity};
use crate::error::{Error, Result};
use crate::store::schema::{deficiencies, due_items, fixtures, results, rooms, tags, units};
use crate::store::{AnyConnection, due};

/// A fixture that stood there on the day.
#[derive(Debug, Clone)]
pub struct Line {
    /// Key of the fixture.
    pub fixture: FixtureId,
    /// Label of the unit.
    pub unit: String,
    /// Name of the room, empty when none was named.
    pub room: String,
    /// Label of the place.
    pub tag: String,
    /// What it is.
    pub kind: FixtureKind,
    /// Free text.
    pub maker: String,
    /// Free text.
    pub model: String,
    /// When it was installed.
    pub installed: Installed,
    /// The last day on which it was checked.
    pub last_done: Option<NaiveDate>,
    /// The earliest due date.
    pub next_due: Option<NaiveDate>,
    /// What its condition follows from.
    pub record: OnRecord,
}

type Standing = (
    i64,
    i64,
    String,
    Option<String>,
    String,
    String,
    String,
    String,
    Option<NaiveDate>,
    bool,
);

/// The first instant after a local day, UTC.
pub(super) fn end_of(day: NaiveDate, zone: Tz) -> NaiveDateTime {
    let midnight = day
        .checked_add_days(Days::new(1))
        .unwrap_or(day)
        .and_time(chrono::NaiveTime::MIN);
    let local = zone.from_local_datetime(&midnight);
    // A clock that is put forward at midnight has no such minute; the next hour has.
    let instant = local.earliest().or_else(|| {
        zone.from_local_datetime(&(midnight + chrono::TimeDelta::hours(1)))
            .earliest()
    });
    instant.map_or(midnight, |instant| instant.with_timezone(&Utc).naive_utc())
}

/// The fixtures of a building on a day, and what was open there on none of them. With `book` due dates are computed from the ground state as of that day; without, those that are
/// kept for today are read.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    book: Option<&Book>,
) -> Result<(Vec<Line>, Vec<Loose>)> {
    let standing = standing(conn, building, day)?;
    let done = last_done(conn, building, day)?;
    let (open, loose) = open_on(conn, building, day, &standing)?;
    let due = match book {
        Some(book) => due_as_of(conn, building, day, book)?,
        None => due_kept(conn, building)?,
    };
    let lines: Result<Vec<Line>> = standing
        .into_iter()
        .map(
            |(fixture, tag, unit, room, label, kind, maker, model, installed_on, estimated)| {
                let (last_done, last_outcome) = done.get(&FixtureId(fixture)).copied().unzip();
                let (next_due, last_day) = due.get(&FixtureId(fixture)).copied().unzip();
                let days_over = last_day.map_or(0, |last_day| (day - last_day).num_days().max(0));
                Ok(Line {
                    fixture: FixtureId(fixture),
                    unit,
                    room: room.unwrap_or_default(),
                    tag: label,
                    kind: FixtureKind::from_code(&kind).map_err(Error::internal)?,
                    maker,
                    model,
                    installed: Installed::from_row((installed_on, estimated)),
                    last_done,
                    next_due,
                    record: OnRecord {
                        open: open.get(&TagId(tag)).copied().unwrap_or_default(),
                        days_over,
                        last_outcome,
                    },
                })
            },
        )
        .collect();
    Ok((lines?, loose))
}

fn standing(conn: &mut AnyConnection, building: &Building, day: NaiveDate) -> Result<Vec<Standing>> {
    let stood = fixtures::stood_from
        .le(day)
        .and(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)));
    let rows = fixtures::table
        .inner_join(tags::table.inner_join(units::table).left_join(rooms::table))
        .filter(units::building_id.eq(building.id.0))
        .filter(stood)
        .order((
            units::label_order,
            units::id,
            rooms::id.is_null(),
            rooms::walk_order,
            rooms::id,
            tags::label_order,
            fixtures::id,
        ))
        .select((
            fixtures::id,
            tags::id,
            units::label,
            rooms::name.nullable(),
            tags::label,
            fixtures::kind,
            fixtures::maker,
            fixtures::model,
            fixtures::installed_on,
            fixtures::installed_estimated,
        ))
        .load(conn)?;
    Ok(rows)
}

/// The last day on which each fixture was checked, and how that day came out.
fn last_done(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
) -> Result<HashMap<FixtureId, (NaiveDate, Outcome)>> {
    let until = results::building_id
        .eq(building.id.0)
        .and(results::done_on.le(day));
    let by_fixture = |outcomes: [&'static str; 2]| {
        results::table
            .filter(until)
            .filter(results::outcome.eq_any(outcomes))
            .group_by(results::fixture_id)
            .select((results::fixture_id, max(results::done_on)))
    };
    let failed: HashMap<i64, Option<NaiveDate>> = by_fixture(["fail", "fail"])
        .load::<(i64, Option<NaiveDate>)>(conn)?
        .into_iter()
        .collect();
    let done: Vec<(i64, Option<NaiveDate>)> = by_fixture(["pass", "fail"]).load(conn)?;
    Ok(done
        .into_iter()
        .filter_map(|(fixture, last)| {
            let last = last?;
            let has_failed = failed.get(&fixture).copied().flatten() == Some(last);
            Some((
                FixtureId(fixture),
                (last, if has_failed { Outcome::Fail } else { Outcome::Pass }),
            ))
        })
        .collect())
}

/// A deficiency of a unit or of a place where nothing stands: no line of a fixture tells of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loose {
    /// Label of the unit.
    pub unit: String,
    /// Label of the place, empty for the unit as a whole.
    pub tag: String,
    /// What is wrong, in one line.
    pub title: String,
    /// How grave.
    pub severity: Severity,
}

/// Whether a deficiency of a building was open at an instant.
#[diesel::dsl::auto_type(no_type_alias)]
pub(super) fn open_at(building: i64, at: NaiveDateTime) -> _ {
    deficiencies::building_id
        .eq(building)
        .and(deficiencies::opened_at.lt(at))
        .and(
            deficiencies::closed_at
                .is_null()
                .or(deficiencies::closed_at.ge(at)),
        )
}

/// What was open at the end of the day: by place where something stood, and the rest, gravest first.
fn open_on(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    standing: &[Standing],
) -> Result<(HashMap<TagId, Open>, Vec<Loose>)> {
    type Row = (Option<i64>, Option<String>, String, String, String, Option<i64>);
    let rows: Vec<Row> = deficiencies::table
        .inner_join(units::table)
        .left_join(tags::table)
        .filter(open_at(building.id.0, end_of(day, building.facts.time_zone)))
        .order((units::label_order, units::id, deficiencies::id))
        .select((
            deficiencies::tag_id,
            tags::label.nullable(),
            units::label,
            deficiencies::title,
            deficiencies::severity,
            deficiencies::repeats_id,
        ))
        .load(conn)?;
    let taken: HashSet<i64> = standing.iter().map(|(_, tag, ..)| *tag).collect();
    let mut by_tag: HashMap<TagId, Open> = HashMap::new();
    let mut loose = Vec::new();
    for (key, tag, unit, title, severity, repeats) in rows {
        let severity = Severity::from_code(&severity).map_err(Error::internal)?;
        let Some(key) = key.filter(|key| taken.contains(key)) else {
            let tag = tag.unwrap_or_default();
            loose.push(Loose {
                unit,
                tag,
                title,
                severity,
            });
            continue;
        };
        let open = by_tag.entry(TagId(key)).or_default();
        match severity {
            Severity::LifeThreatening => open.life_threatening += 1,
            Severity::Severe => open.severe += 1,
            Severity::Moderate => open.moderate += 1,
            Severity::Low => open.low += 1,
        }
        open.repeated += u32::from(repeats.is_some());
    }
    loose.sort_by_key(|one| std::cmp::Reverse(one.severity.rank()));
    Ok((by_tag, loose))
}

type Earliest = HashMap<FixtureId, (NaiveDate, NaiveDate)>;

/// Earliest due date and earliest last day of each fixture, as kept for today.
fn due_kept(conn: &mut AnyConnection, building: &Building) -> Result<Earliest> {
    let rows: Vec<(i64, Option<NaiveDate>, Option<NaiveDate>)> = due_items::table
        .filter(due_items::building_id.eq(building.id.0))
        .group_by(due_items::fixture_id)
        .select((
            due_items::fixture_id,
            min(due_items::due),
            min(due_items::last_day),
        ))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .filter_map(|(fixture, due, last_day)| Some((FixtureId(fixture), (due?, last_day?))))
        .collect())
}

/// The same as of a day, from the ground state.
fn due_as_of(conn: &mut AnyConnection, building: &Building, day: NaiveDate, book: &Book) -> Result<Earliest> {
    let computed = due::compute_building(conn, book, building.id, day)?;
    let mut earliest = Earliest::new();
    for (_, row) in &computed.rows {
        let (due, last_day) = (row.item.window.due(), row.item.window.last_day());
        let known = earliest.entry(row.fixture).or_insert((due, last_day));
        *known = (known.0.min(due), known.1.min(last_day));
    }
    Ok(earliest)
}
