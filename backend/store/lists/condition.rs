//! What is on record of every fixture that stood in a building on a day: a line a fixture, in the order of a walk.

use std::collections::{HashMap, HashSet};

use chrono::{Days, NaiveDate, NaiveDateTime, TimeZone, Utc};
use chrono_tz::Tz;
use diesel::dsl::{case_when, max, min};
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::condition::{OnRecord, Open};
use crate::domain::due::Book;
use crate::domain::register::{Building, BuildingId, FixtureId, Installed, TagId};
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

/// The fixtures of a building, and what was open there on none of them.
pub type Found = (Vec<Line>, Vec<Loose>);

/// The fixtures of a building on a day, and what was open there on none of them. With `book` due dates are computed from the ground
/// state as of that day; without, those that are kept for today are read.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    book: Option<&Book>,
) -> Result<Found> {
    let mut found = of_buildings(conn, std::slice::from_ref(building), day, book)?;
    Ok(found.remove(&building.id).unwrap_or_default())
}

/// As [`of_building`], of some buildings in one time zone together; one that has nothing is left out.
///
/// # Errors
/// When the database does not answer.
pub fn of_buildings(
    conn: &mut AnyConnection,
    buildings: &[Building],
    day: NaiveDate,
    book: Option<&Book>,
) -> Result<HashMap<BuildingId, Found>> {
    let keys: Vec<i64> = buildings.iter().map(|building| building.id.0).collect();
    let standing = standing(conn, &keys, day)?;
    let done = last_done(conn, &keys, day)?;
    let zone = buildings
        .first()
        .map_or(Tz::UTC, |building| building.facts.time_zone);
    let (open, loose) = open_on(conn, &keys, end_of(day, zone), &standing)?;
    let due = match book {
        Some(book) => due_as_of(conn, &keys, day, book)?,
        None => due_kept(conn, &keys)?,
    };
    let mut found: HashMap<BuildingId, Found> = HashMap::new();
    for (building, fixture, tag, unit, room, label, kind, maker, model, installed_on, estimated) in standing {
        let (last_done, last_outcome) = done.get(&FixtureId(fixture)).copied().unzip();
        let (next_due, last_day) = due.get(&FixtureId(fixture)).copied().unzip();
        let days_over = last_day.map_or(0, |last_day| (day - last_day).num_days().max(0));
        let line = Line {
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
        };
        found.entry(BuildingId(building)).or_default().0.push(line);
    }
    for (building, loose) in loose {
        found.entry(building).or_default().1.push(loose);
    }
    Ok(found)
}

fn standing(conn: &mut AnyConnection, buildings: &[i64], day: NaiveDate) -> Result<Vec<Standing>> {
    let stood = fixtures::stood_from
        .le(day)
        .and(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)));
    let rows = fixtures::table
        .inner_join(tags::table.inner_join(units::table).left_join(rooms::table))
        .filter(units::building_id.eq_any(buildings))
        .filter(stood)
        .order((
            units::building_id,
            units::label_order,
            units::id,
            rooms::id.is_null(),
            rooms::walk_order,
            rooms::id,
            tags::label_order,
            fixtures::id,
        ))
        .select((
            units::building_id,
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
    buildings: &[i64],
    day: NaiveDate,
) -> Result<HashMap<FixtureId, (NaiveDate, Outcome)>> {
    let rows: Vec<(i64, Option<NaiveDate>, Option<NaiveDate>)> = results::table
        .filter(results::building_id.eq_any(buildings))
        .filter(results::done_on.le(day))
        .filter(results::outcome.eq_any(["pass", "fail"]))
        .group_by(results::fixture_id)
        .select((
            results::fixture_id,
            max(results::done_on),
            max(case_when(results::outcome.eq("fail"), results::done_on)),
        ))
        .load(conn)?;
    let each = rows.into_iter().filter_map(|(fixture, last, failed)| {
        let outcome = if failed == last {
            Outcome::Fail
        } else {
            Outcome::Pass
        };
        Some((FixtureId(fixture), (last?, outcome)))
    });
    Ok(each.collect())
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

/// Whether a deficiency was open at an instant.
#[diesel::dsl::auto_type(no_type_alias)]
pub(super) fn open_at(at: NaiveDateTime) -> _ {
    deficiencies::opened_at.lt(at).and(
        deficiencies::closed_at
            .is_null()
            .or(deficiencies::closed_at.ge(at)),
    )
}

/// What was open at the end of the day: by place where something stood, and the rest, gravest first.
fn open_on(
    conn: &mut AnyConnection,
    buildings: &[i64],
    end: NaiveDateTime,
    standing: &[Standing],
) -> Result<(HashMap<TagId, Open>, Vec<(BuildingId, Loose)>)> {
    type Row = (
        i64,
        Option<i64>,
        Option<String>,
        String,
        String,
        String,
        Option<i64>,
    );
    let rows: Vec<Row> = deficiencies::table
        .inner_join(units::table)
        .left_join(tags::table)
        .filter(deficiencies::building_id.eq_any(buildings))
        .filter(open_at(end))
        .order((units::label_order, units::id, deficiencies::id))
        .select((
            deficiencies::building_id,
            deficiencies::tag_id,
            tags::label.nullable(),
            units::label,
            deficiencies::title,
            deficiencies::severity,
            deficiencies::repeats_id,
        ))
        .load(conn)?;
    let taken: HashSet<i64> = standing.iter().map(|(_, _, tag, ..)| *tag).collect();
    let mut by_tag: HashMap<TagId, Open> = HashMap::new();
    let mut loose = Vec::new();
    for (building, key, tag, unit, title, severity, repeats) in rows {
        let severity = Severity::from_code(&severity).map_err(Error::internal)?;
        let Some(key) = key.filter(|key| taken.contains(key)) else {
            let tag = tag.unwrap_or_default();
            let one = Loose {
                unit,
                tag,
                title,
                severity,
            };
            loose.push((BuildingId(building), one));
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
    loose.sort_by_key(|(_, one)| std::cmp::Reverse(one.severity.rank()));
    Ok((by_tag, loose))
}

type Earliest = HashMap<FixtureId, (NaiveDate, NaiveDate)>;

/// Earliest due date and earliest last day of each fixture, as kept for today.
fn due_kept(conn: &mut AnyConnection, buildings: &[i64]) -> Result<Earliest> {
    let rows: Vec<(i64, Option<NaiveDate>, Option<NaiveDate>)> = due_items::table
        .filter(due_items::building_id.eq_any(buildings))
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
fn due_as_of(conn: &mut AnyConnection, buildings: &[i64], day: NaiveDate, book: &Book) -> Result<Earliest> {
    let mut earliest = Earliest::new();
    for building in buildings {
        let computed = due::compute_building(conn, book, BuildingId(*building), day)?;
        for (_, row) in &computed.rows {
            let (due, last_day) = (row.item.window.due(), row.item.window.last_day());
            let known = earliest.entry(row.fixture).or_insert((due, last_day));
            *known = (known.0.min(due), known.1.min(last_day));
        }
    }
    Ok(earliest)
}
