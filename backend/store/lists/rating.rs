//! What a building's figures are made of on a day: what was asked and when it had to be answered, what was answered, what was open, and
//! how old everything that stood there was.

use std::collections::{BTreeMap, HashSet};

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use super::condition::{end_of, open_at};
use super::unit_counts::Counts;
use crate::domain::due::Book;
use crate::domain::register::{
    Building, BuildingId, CheckId, DeficiencyId, FixtureId, Installed, TagId, UnitId,
};
use crate::domain::trade::life::Item;
use crate::domain::trade::{FixtureKind, PartKind, Severity};
use crate::error::Result;
use crate::store::coded::{read_code, read_part};
use crate::store::schema::{checks, deficiencies, due_items, fixtures, parts, results, tags, units};
use crate::store::{AnyConnection, due};

/// A check that is asked at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// In which unit.
    pub unit: UnitId,
    /// At which place.
    pub tag: TagId,
    /// Of which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// The last day before it is overdue.
    pub last_day: NaiveDate,
}

/// Everything that was asked in a building on a day. With `book` it is computed from the ground state as of that day; without, the rows
/// that are kept for today are read.
///
/// # Errors
/// When the database does not answer.
pub fn asked(
    conn: &mut AnyConnection,
    building: BuildingId,
    day: NaiveDate,
    book: Option<&Book>,
) -> Result<Vec<Asked>> {
    if let Some(book) = book {
        let computed = due::compute_building(conn, book, building, day)?;
        let rows = computed.rows.iter().filter_map(|(at, row)| {
            let place = computed.places.get(*at)?;
            Some(Asked {
                unit: place.unit,
                tag: place.tag,
                part: row.part,
                check: row.check,
                last_day: row.item.window.last_day(),
            })
        });
        return Ok(rows.collect());
    }
    let rows: Vec<(i64, i64, String, i64, NaiveDate)> = due_items::table
        .inner_join(fixtures::table)
        .filter(due_items::building_id.eq(building.0))
        .select((
            due_items::unit_id,
            fixtures::tag_id,
            due_items::part,
            due_items::check_id,
            due_items::last_day,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(unit, tag, part, check, last_day)| {
            Ok(Asked {
                unit: UnitId(unit),
                tag: TagId(tag),
                part: read_part(&part)?,
                check: CheckId(check),
                last_day,
            })
        })
        .collect()
}

/// What was answered, pass or fail, after `after` and until `day`.
///
/// # Errors
/// When the database does not answer.
pub fn answered(
    conn: &mut AnyConnection,
    building: BuildingId,
    after: NaiveDate,
    day: NaiveDate,
) -> Result<HashSet<(TagId, Option<PartKind>, CheckId)>> {
    let rows: Vec<(i64, String, i64)> = results::table
        .filter(results::building_id.eq(building.0))
        .filter(results::done_on.gt(after))
        .filter(results::done_on.le(day))
        .filter(results::outcome.eq_any(["pass", "fail"]))
        .select((results::tag_id, results::part, results::check_id))
        .distinct()
        .load(conn)?;
    rows.into_iter()
        .map(|(tag, part, check)| Ok((TagId(tag), read_part(&part)?, CheckId(check))))
        .collect()
}

/// A deficiency that was open at the end of a day.
#[derive(Debug, Clone)]
pub struct OpenOn {
    /// Key, also its number for people.
    pub id: DeficiencyId,
    /// In which unit.
    pub unit: UnitId,
    /// At which place, and what stood there; none when a report names none.
    pub place: Option<(String, FixtureKind)>,
    /// Code of the check that failed; none for a report.
    pub check: Option<String>,
    /// What is wrong, in one line.
    pub title: String,
    /// How grave.
    pub severity: Severity,
    /// How grave by what failed alone, without what a repeat added.
    pub own_severity: Severity,
    /// Its own cost, minor units, when it was noted.
    pub cost_minor: Option<i64>,
}

/// The first instant after a building's local day, UTC.
#[must_use]
pub fn end(building: &Building, day: NaiveDate) -> NaiveDateTime {
    end_of(day, building.facts.time_zone)
}

/// What was open in a building at the end of a day, gravest first.
///
/// # Errors
/// When the database does not answer.
pub fn open_on(conn: &mut AnyConnection, building: &Building, day: NaiveDate) -> Result<Vec<OpenOn>> {
    type Row = (
        i64,
        i64,
        Option<String>,
        Option<String>,
        Option<String>,
        String,
        String,
        Option<String>,
        Option<i64>,
    );
    let end = end_of(day, building.facts.time_zone);
    let rows: Vec<Row> = deficiencies::table
        .left_join(tags::table)
        .left_join(fixtures::table)
        .left_join(checks::table)
        .filter(deficiencies::building_id.eq(building.id.0))
        .filter(open_at(end))
        .order(deficiencies::id)
        .select((
            deficiencies::id,
            deficiencies::unit_id,
            tags::label.nullable(),
            fixtures::kind.nullable(),
            checks::code.nullable(),
            deficiencies::title,
            deficiencies::severity,
            deficiencies::own_severity,
            deficiencies::cost_minor,
        ))
        .load(conn)?;
    let mut open = rows
        .into_iter()
        .map(|(id, unit, tag, kind, check, title, severity, own, cost_minor)| {
            let severity = read_code(&severity)?;
            let own = own.as_deref().map(read_code).transpose()?;
            let kind = kind.map(|kind| read_code(&kind)).transpose()?;
            Ok(OpenOn {
                id: DeficiencyId(id),
                unit: UnitId(unit),
                place: tag.zip(kind),
                check,
                title,
                severity,
                own_severity: own.unwrap_or(severity),
                cost_minor,
            })
        })
        .collect::<Result<Vec<_>>>()?;
    open.sort_by_key(|one| (-one.severity.rank(), one.id));
    Ok(open)
}

/// What it cost to put right each check's deficiencies in this building until a day: the middle one of three or more, minor units.
///
/// # Errors
/// When the database does not answer.
pub fn usual_costs(
    conn: &mut AnyConnection,
    building: BuildingId,
    until: NaiveDateTime,
) -> Result<BTreeMap<String, i64>> {
    let rows: Vec<(String, Option<i64>)> = deficiencies::table
        .inner_join(checks::table)
        .filter(deficiencies::building_id.eq(building.0))
        .filter(deficiencies::closed_at.lt(until))
        .filter(deficiencies::cost_minor.is_not_null())
        .select((checks::code, deficiencies::cost_minor))
        .load(conn)?;
    let mut by_check: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    for (check, cost) in rows {
        by_check.entry(check).or_default().extend(cost);
    }
    let middle = |(check, mut costs): (String, Vec<i64>)| {
        costs.sort_unstable();
        let at = (costs.len() - 1) / 2;
        (costs.len() >= 3)
            .then(|| Some((check, *costs.get(at)?)))
            .flatten()
    };
    Ok(by_check.into_iter().filter_map(middle).collect())
}

/// A fixture or a part that stood there on a day.
#[derive(Debug, Clone)]
pub struct Aged {
    /// The fixture, of a part the one it belongs to.
    pub fixture: FixtureId,
    /// What it is.
    pub item: Item,
    /// When it was installed.
    pub installed: Installed,
}

/// Every fixture and part that stood in a building on a day.
///
/// # Errors
/// When the database does not answer.
pub fn aged(conn: &mut AnyConnection, building: BuildingId, day: NaiveDate) -> Result<Vec<Aged>> {
    type Row = (i64, String, Option<NaiveDate>, bool);
    let of_fixtures: Vec<Row> = fixtures::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq(building.0))
        .filter(fixtures::stood_from.le(day))
        .filter(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)))
        .order(fixtures::id)
        .select((
            fixtures::id,
            fixtures::kind,
            fixtures::installed_on,
            fixtures::installed_estimated,
        ))
        .load(conn)?;
    let of_parts: Vec<Row> = parts::table
        .inner_join(fixtures::table.inner_join(tags::table.inner_join(units::table)))
        .filter(units::building_id.eq(building.0))
        .filter(parts::stood_from.le(day))
        .filter(parts::stood_until.is_null().or(parts::stood_until.gt(day)))
        .filter(fixtures::stood_from.le(day))
        .filter(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)))
        .order(parts::id)
        .select((
            parts::fixture_id,
            parts::kind,
            parts::installed_on,
            parts::installed_estimated,
        ))
        .load(conn)?;
    let aged = |(fixture, item, installed_on, estimated): (i64, Item, Option<NaiveDate>, bool)| Aged {
        fixture: FixtureId(fixture),
        item,
        installed: Installed::from_row((installed_on, estimated)),
    };
    let mut all = Vec::with_capacity(of_fixtures.len() + of_parts.len());
    for (fixture, kind, on, estimated) in of_fixtures {
        all.push(aged((fixture, Item::Fixture(read_code(&kind)?), on, estimated)));
    }
    for (fixture, kind, on, estimated) in of_parts {
        all.push(aged((fixture, Item::Part(read_code(&kind)?), on, estimated)));
    }
    Ok(all)
}

/// The counts of every unit on a day, as the elevation shows them.
///
/// # Errors
/// When the database does not answer.
pub fn counts_on(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    book: &Book,
) -> Result<BTreeMap<UnitId, Counts>> {
    let mut all: BTreeMap<UnitId, Counts> = BTreeMap::new();
    let standing: Vec<i64> = fixtures::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq(building.id.0))
        .filter(fixtures::stood_from.le(day))
        .filter(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)))
        .select(tags::unit_id)
        .load(conn)?;
    for unit in standing {
        all.entry(UnitId(unit)).or_default().fixtures += 1;
    }
    let computed = due::compute_building(conn, book, building.id, day)?;
    for (at, row) in &computed.rows {
        let Some(place) = computed.places.get(*at) else {
            continue;
        };
        let counts = all.entry(place.unit).or_default();
        counts.checks.add(row.item.window.state(day));
    }
    for open in open_on(conn, building, day)? {
        let counts = all.entry(open.unit).or_default();
        counts.open.add(open.severity, 1);
    }
    Ok(all)
}
