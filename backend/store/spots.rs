//! A fixture with where it stands: what is needed to judge an answer and to walk a unit. A read model over the register.

use std::collections::HashMap;

use chrono::NaiveDate;
use diesel::prelude::*;

use super::AnyConnection;
use super::among::among;
use super::coded::read_code;
use super::schema::{buildings, fixtures, parts, rooms, tags, units};
use crate::domain::code::Coded;
use crate::domain::measure::LengthUnit;
use crate::domain::register::fixture::Service;
use crate::domain::register::person::Scope;
use crate::domain::register::unit::UnitKind;
use crate::domain::register::{BuildingId, FixtureId, TagId, UnitId};
use crate::domain::trade::outcome::Context;
use crate::domain::trade::{FixtureKind, PartKind, ProfileCode};
use crate::error::{Error, Result};

/// The building of a spot, as far as days and limits depend on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpotBuilding {
    /// Key.
    pub id: BuildingId,
    /// Short code.
    pub code: String,
    /// Name.
    pub name: String,
    /// Zone of its days.
    pub zone: chrono_tz::Tz,
    /// Whose limits apply.
    pub profile: ProfileCode,
    /// How lengths are shown and read.
    pub length_unit: LengthUnit,
    /// The day it joined.
    pub joined_on: NaiveDate,
}

impl SpotBuilding {
    /// What is known of the building when an answer is judged.
    #[must_use]
    pub fn context(&self) -> Context {
        Context {
            profile: self.profile.clone(),
            length_unit: self.length_unit,
        }
    }
}

/// The unit of a spot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpotUnit {
    /// Key.
    pub id: UnitId,
    /// As on the door.
    pub label: String,
    /// Whether it is a common area.
    pub kind: UnitKind,
    /// Where.
    pub building: SpotBuilding,
}

/// A fixture with where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spot {
    /// What stands there.
    pub fixture: FixtureId,
    /// Its kind.
    pub kind: FixtureKind,
    /// Whether it still does its work.
    pub status: Service,
    /// First local day it counts.
    pub stood_from: NaiveDate,
    /// Its place.
    pub tag: TagId,
    /// Label of the place.
    pub tag_label: String,
    /// Name of the room; empty when none was named.
    pub room: String,
    /// Where.
    pub unit: SpotUnit,
}

type BuildingColumns = (i64, String, String, String, String, String, NaiveDate);
type UnitColumns = (i64, String, String);
type FixtureColumns = (i64, String, String, NaiveDate, i64, String);

fn read_unit(unit: UnitColumns, building: BuildingColumns) -> Result<SpotUnit> {
    let (building_id, code, name, zone, profile, length_unit, joined_on) = building;
    Ok(SpotUnit {
        id: UnitId(unit.0),
        label: unit.1,
        kind: read_code(&unit.2)?,
        building: SpotBuilding {
            id: BuildingId(building_id),
            code,
            name,
            zone: zone.parse().map_err(|_no_zone| Error::internal(zone))?,
            profile: profile.parse().map_err(Error::internal)?,
            length_unit: read_code(&length_unit)?,
            joined_on,
        },
    })
}

fn read_spot(
    fixture: FixtureColumns,
    room: Option<String>,
    unit: UnitColumns,
    building: BuildingColumns,
) -> Result<Spot> {
    let (id, kind, status, stood_from, tag, tag_label) = fixture;
    Ok(Spot {
        fixture: FixtureId(id),
        kind: read_code(&kind)?,
        status: read_code(&status)?,
        stood_from,
        tag: TagId(tag),
        tag_label,
        room: room.unwrap_or_default(),
        unit: read_unit(unit, building)?,
    })
}

macro_rules! building_columns {
    () => {
        (
            buildings::id,
            buildings::code,
            buildings::name,
            buildings::time_zone,
            buildings::code_profile,
            buildings::length_unit,
            buildings::joined_on,
        )
    };
}

macro_rules! unit_columns {
    () => {
        (units::id, units::label, units::kind)
    };
}

macro_rules! spots {
    () => {
        fixtures::table
            .inner_join(
                tags::table
                    .left_join(rooms::table)
                    .inner_join(units::table.inner_join(buildings::table)),
            )
            .select((
                (
                    fixtures::id,
                    fixtures::kind,
                    fixtures::status,
                    fixtures::stood_from,
                    tags::id,
                    tags::label,
                ),
                rooms::name.nullable(),
                unit_columns!(),
                building_columns!(),
            ))
    };
}

type SpotColumns = (FixtureColumns, Option<String>, UnitColumns, BuildingColumns);

fn read_spots(rows: Vec<SpotColumns>) -> Result<Vec<Spot>> {
    rows.into_iter()
        .map(|(fixture, room, unit, building)| read_spot(fixture, room, unit, building))
        .collect()
}

/// These fixtures, in service or not, as far as the scope sees them.
///
/// # Errors
/// When the database does not answer.
pub fn of_fixtures(
    conn: &mut AnyConnection,
    scope: &Scope,
    ids: &[FixtureId],
) -> Result<HashMap<FixtureId, Spot>> {
    let mut found = HashMap::new();
    for chunk in ids.chunks(500) {
        let keys: Vec<i64> = chunk.iter().map(|id| id.0).collect();
        let rows: Vec<SpotColumns> = spots!().filter(among(conn, "fixtures.id", &keys)).load(conn)?;
        let spots = read_spots(rows)?.into_iter();
        let seen = spots.filter(|spot| scope.sees(spot.unit.building.id));
        found.extend(seen.map(|spot| (spot.fixture, spot)));
    }
    Ok(found)
}

/// One fixture, in service or not.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn of_fixture(conn: &mut AnyConnection, scope: &Scope, id: FixtureId) -> Result<Spot> {
    of_fixtures(conn, scope, &[id])?
        .remove(&id)
        .ok_or_else(|| Error::not_found("such fixture"))
}

/// The fixtures in service in a unit in the order of a walk: room by room, places without a room last, then by label.
///
/// # Errors
/// When the database does not answer. A scope that does not see the unit finds nothing; ask `unit` first.
pub fn in_unit(conn: &mut AnyConnection, scope: &Scope, unit: UnitId) -> Result<Vec<Spot>> {
    let rows: Vec<SpotColumns> = spots!()
        .filter(units::id.eq(unit.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .order((
            rooms::id.is_null(),
            rooms::walk_order,
            tags::label_order,
            fixtures::id,
        ))
        .load(conn)?;
    let mut spots = read_spots(rows)?;
    spots.retain(|spot| scope.sees(spot.unit.building.id));
    Ok(spots)
}

/// The fixture in service at a place, when there is one.
///
/// # Errors
/// When the database does not answer.
pub fn at_tag(conn: &mut AnyConnection, scope: &Scope, tag: TagId) -> Result<Option<Spot>> {
    let rows: Vec<SpotColumns> = spots!()
        .filter(tags::id.eq(tag.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .load(conn)?;
    let spot = read_spots(rows)?.pop();
    Ok(spot.filter(|spot| scope.sees(spot.unit.building.id)))
}

/// A unit with its building.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn unit(conn: &mut AnyConnection, scope: &Scope, id: UnitId) -> Result<SpotUnit> {
    let missing = || Error::not_found("such unit");
    let row: Option<(UnitColumns, BuildingColumns)> = units::table
        .inner_join(buildings::table)
        .filter(units::id.eq(id.0))
        .select((unit_columns!(), building_columns!()))
        .first(conn)
        .optional()?;
    let (unit, building) = row.ok_or_else(missing)?;
    let unit = read_unit(unit, building)?;
    if scope.sees(unit.building.id) {
        Ok(unit)
    } else {
        Err(missing())
    }
}

/// The places of a unit in the order of a walk: key, label, and room, empty when none was named.
///
/// # Errors
/// When the database does not answer.
pub fn tags_of(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<(TagId, String, String)>> {
    let rows: Vec<(i64, String, Option<String>)> = tags::table
        .left_join(rooms::table)
        .filter(tags::unit_id.eq(unit.0))
        .order((
            rooms::id.is_null(),
            rooms::walk_order,
            tags::label_order,
            tags::id,
        ))
        .select((tags::id, tags::label, rooms::name.nullable()))
        .load(conn)?;
    let named = rows
        .into_iter()
        .map(|(tag, label, room)| (TagId(tag), label, room.unwrap_or_default()));
    Ok(named.collect())
}

/// The kinds of part in service of each of these fixtures.
///
/// # Errors
/// When the database does not answer.
pub fn parts_in_service(
    conn: &mut AnyConnection,
    ids: &[FixtureId],
) -> Result<HashMap<FixtureId, Vec<PartKind>>> {
    let mut found: HashMap<FixtureId, Vec<PartKind>> = HashMap::new();
    for chunk in ids.chunks(500) {
        let rows: Vec<(i64, String)> = parts::table
            .filter(parts::fixture_id.eq_any(chunk.iter().map(|id| id.0)))
            .filter(parts::status.eq(Service::InService.code()))
            .order(parts::id)
            .select((parts::fixture_id, parts::kind))
            .load(conn)?;
        for (fixture, kind) in rows {
            found
                .entry(FixtureId(fixture))
                .or_default()
                .push(read_code(&kind)?);
        }
    }
    Ok(found)
}
