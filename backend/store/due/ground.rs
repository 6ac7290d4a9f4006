//! What stands where, read in a few queries for many fixtures at once: with what was done there (`done`) all that due rows are computed from.
//!
//! It decides what stood at a place on a day. It knows no schedule.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::due::{AskedBuilding, Standing, StandingPart, Tenancy};
use crate::domain::register::{BuildingId, FixtureId, TagId, UnitId};
use crate::domain::trade::{BaseJoint, FixtureKind, PartKind};
use crate::error::{Error, Result};
use crate::store::schema::{buildings, fixtures, parts, tags, units};
use crate::store::{AnyConnection, calendars};

/// Later than any day that anybody records: nothing lies after it.
pub const ALWAYS: NaiveDate = match NaiveDate::from_ymd_opt(9999, 12, 31) {
    Some(day) => day,
    None => NaiveDate::MAX,
};

/// Which fixtures.
#[derive(Debug, Clone, Copy)]
pub enum Selection<'a> {
    /// These, a few thousand at most.
    Fixtures(&'a [i64]),
    /// All of a building.
    Building(BuildingId),
}

/// A fixture that stood at its place on the day, with what a list shows of it.
#[derive(Debug, Clone)]
pub struct Place {
    /// The fixture.
    pub fixture: FixtureId,
    /// Its place.
    pub tag: TagId,
    /// The place's label.
    pub tag_label: String,
    /// The place's label as people count.
    pub tag_order: String,
    /// In which unit.
    pub unit: UnitId,
    /// The unit's label.
    pub unit_label: String,
    /// The unit's label as people count.
    pub unit_order: String,
    /// In which building.
    pub building: BuildingId,
    /// What it is.
    pub kind: FixtureKind,
    /// Local date, when known.
    pub installed_on: Option<NaiveDate>,
    /// Millionths of the first interval.
    pub spread_ppm: u32,
    /// The parts that were there.
    pub parts: Vec<StandingPart>,
    /// Who lives in the unit when; of a unit that is always in use where no schedule asks.
    pub tenancy: Arc<Tenancy>,
}

impl Place {
    /// What a plan asks about.
    #[must_use]
    pub fn standing(&self) -> Standing<'_> {
        Standing {
            fixture: self.fixture,
            kind: self.kind,
            tag: &self.tag_label,
            installed_on: self.installed_on,
            spread_ppm: self.spread_ppm,
            parts: &self.parts,
            tenancy: &self.tenancy,
        }
    }
}

/// What an empty part in a row means.
pub fn part_of(code: &str) -> Result<Option<PartKind>> {
    if code.is_empty() {
        return Ok(None);
    }
    PartKind::from_code(code).map(Some).map_err(Error::internal)
}

/// How a part is written in a row.
pub fn part_code(part: Option<PartKind>) -> &'static str {
    part.map_or("", PartKind::code)
}

/// What a building brings along.
pub fn building(conn: &mut AnyConnection, id: BuildingId) -> Result<AskedBuilding> {
    let (code, joined_on, built_year, base_joint): (String, NaiveDate, Option<i64>, String) =
        buildings::table
            .find(id.0)
            .select((
                buildings::code,
                buildings::joined_on,
                buildings::built_year,
                buildings::base_joint,
            ))
            .first(conn)
            .optional()?
            .ok_or_else(|| Error::not_found("such building"))?;
    Ok(AskedBuilding {
        code,
        joined_on,
        built_year,
        base_joint: BaseJoint::from_code(&base_joint).map_err(Error::internal)?,
        calendar: calendars::of_building(conn, id)?,
    })
}

type PlaceRow = (
    i64,
    i64,
    String,
    String,
    i64,
    String,
    String,
    i64,
    String,
    Option<NaiveDate>,
    i64,
);

/// The fixtures of a selection that stood there on a day, with the parts that did.
pub fn places(conn: &mut AnyConnection, selection: Selection<'_>, day: NaiveDate) -> Result<Vec<Place>> {
    let stood = fixtures::stood_from
        .le(day)
        .and(fixtures::stood_until.is_null().or(fixtures::stood_until.gt(day)));
    let columns = (
        fixtures::id,
        tags::id,
        tags::label,
        tags::label_order,
        units::id,
        units::label,
        units::label_order,
        units::building_id,
        fixtures::kind,
        fixtures::installed_on,
        units::spread_ppm,
    );
    let from = fixtures::table.inner_join(tags::table.inner_join(units::table));
    let rows: Vec<PlaceRow> = match selection {
        Selection::Fixtures(ids) => from
            .filter(fixtures::id.eq_any(ids))
            .filter(stood)
            .order(fixtures::id)
            .select(columns)
            .load(conn)?,
        Selection::Building(building) => from
            .filter(units::building_id.eq(building.0))
            .filter(stood)
            .order(fixtures::id)
            .select(columns)
            .load(conn)?,
    };
    let mut parts = standing_parts(conn, selection, day)?;
    rows.into_iter()
        .map(|row| {
            let (
                fixture,
                tag,
                tag_label,
                tag_order,
                unit,
                unit_label,
                unit_order,
                building,
                kind,
                installed_on,
                spread,
            ) = row;
            Ok(Place {
                fixture: FixtureId(fixture),
                tag: TagId(tag),
                tag_label,
                tag_order,
                unit: UnitId(unit),
                unit_label,
                unit_order,
                building: BuildingId(building),
                kind: FixtureKind::from_code(&kind).map_err(Error::internal)?,
                installed_on,
                spread_ppm: u32::try_from(spread).map_err(Error::internal)?,
                parts: parts.remove(&fixture).unwrap_or_default(),
                tenancy: Arc::default(),
            })
        })
        .collect()
}

fn standing_parts(
    conn: &mut AnyConnection,
    selection: Selection<'_>,
    day: NaiveDate,
) -> Result<HashMap<i64, Vec<StandingPart>>> {
    let stood = parts::stood_from
        .le(day)
        .and(parts::stood_until.is_null().or(parts::stood_until.gt(day)));
    let columns = (parts::fixture_id, parts::kind, parts::installed_on);
    let rows: Vec<(i64, String, Option<NaiveDate>)> = match selection {
        Selection::Fixtures(ids) => parts::table
            .filter(parts::fixture_id.eq_any(ids))
            .filter(stood)
            .order(parts::id)
            .select(columns)
            .load(conn)?,
        Selection::Building(building) => parts::table
            .inner_join(fixtures::table.inner_join(tags::table.inner_join(units::table)))
            .filter(units::building_id.eq(building.0))
            .filter(stood)
            .order(parts::id)
            .select(columns)
            .load(conn)?,
    };
    let mut by_fixture: HashMap<i64, Vec<StandingPart>> = HashMap::new();
    for (fixture, kind, installed_on) in rows {
        let kind = PartKind::from_code(&kind).map_err(Error::internal)?;
        by_fixture
            .entry(fixture)
            .or_default()
            .push(StandingPart { kind, installed_on });
    }
    Ok(by_fixture)
}
