//! Fixtures as stored: what stands or stood at a place, within what a person may see.

use chrono::NaiveDate;
use diesel::prelude::*;

use super::schema::{buildings, fixtures, rooms, tags, units};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{
    Building, Fixture, FixtureFacts, FixtureId, Installed, Part, Room, Service, Tag, TagId, Unit, UnitId,
};
use crate::error::{Error, Result};

/// A fixture with its place.
#[derive(Debug, Clone)]
pub struct Placed {
    /// In which building.
    pub building: Building,
    /// In which unit.
    pub unit: Unit,
    /// In which room, none when no room was named.
    pub room: Option<Room>,
    /// At which place.
    pub tag: Tag,
    /// What stands or stood there.
    pub fixture: Fixture,
}

/// A fixture in service with its room, place and parts in service.
#[derive(Debug, Clone)]
pub struct Standing {
    /// In which room, none when no room was named.
    pub room: Option<Room>,
    /// At which place.
    pub tag: Tag,
    /// What stands there.
    pub fixture: Fixture,
    /// Its parts in service, in the order of the trade's list.
    pub parts: Vec<Part>,
}

/// A fixture to be stored.
#[derive(Debug, Clone)]
pub struct NewFixture<'a> {
    /// Its place.
    pub tag: TagId,
    /// First local day it counts.
    pub stood_from: NaiveDate,
    /// The fixture it replaces.
    pub replaces: Option<FixtureId>,
    /// What it is.
    pub facts: &'a FixtureFacts,
}

#[derive(Queryable)]
pub(super) struct Row {
    id: i64,
    tag_id: i64,
    kind: String,
    maker: String,
    model: String,
    installed_on: Option<NaiveDate>,
    installed_estimated: bool,
    status: String,
    stood_from: NaiveDate,
    stood_until: Option<NaiveDate>,
    replaces_id: Option<i64>,
    note: String,
}

impl TryFrom<Row> for Fixture {
    type Error = Error;

    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            id: FixtureId(row.id),
            tag: TagId(row.tag_id),
            status: Coded::from_code(&row.status).map_err(Error::internal)?,
            stood_from: row.stood_from,
            stood_until: row.stood_until,
            replaces: row.replaces_id.map(FixtureId),
            facts: FixtureFacts {
                kind: Coded::from_code(&row.kind).map_err(Error::internal)?,
                maker: row.maker,
                model: row.model,
                installed: Installed::from_row((row.installed_on, row.installed_estimated)),
                note: row.note,
            },
        })
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = fixtures, treat_none_as_null = true)]
struct Values<'a> {
    tag_id: i64,
    kind: &'a str,
    maker: &'a str,
    model: &'a str,
    installed_on: Option<NaiveDate>,
    installed_estimated: bool,
    status: &'a str,
    stood_from: NaiveDate,
    stood_until: Option<NaiveDate>,
    replaces_id: Option<i64>,
    note: &'a str,
}

/// Stores a fixture in service.
///
/// # Errors
/// When something is in service at the place, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, new: &NewFixture<'_>) -> Result<FixtureId> {
    let values = Values {
        tag_id: new.tag.0,
        kind: new.facts.kind.code(),
        maker: &new.facts.maker,
        model: &new.facts.model,
        installed_on: new.facts.installed.date(),
        installed_estimated: new.facts.installed.is_estimated(),
        status: Service::InService.code(),
        stood_from: new.stood_from,
        stood_until: None,
        replaces_id: new.replaces.map(|id| id.0),
        note: &new.facts.note,
    };
    let id: i64 = diesel::insert_into(fixtures::table)
        .values(values)
        .returning(fixtures::id)
        .get_result(&mut **tx)?;
    Ok(FixtureId(id))
}

/// Stores what a fixture is now.
///
/// # Errors
/// When another is in service at its place, or the database refuses.
pub fn update(tx: &mut Tx<'_>, fixture: &Fixture) -> Result<()> {
    let facts = &fixture.facts;
    let values = Values {
        tag_id: fixture.tag.0,
        kind: facts.kind.code(),
        maker: &facts.maker,
        model: &facts.model,
        installed_on: facts.installed.date(),
        installed_estimated: facts.installed.is_estimated(),
        status: fixture.status.code(),
        stood_from: fixture.stood_from,
        stood_until: fixture.stood_until,
        replaces_id: fixture.replaces.map(|id| id.0),
        note: &facts.note,
    };
    diesel::update(fixtures::table.find(fixture.id.0))
        .set(values)
        .execute(&mut **tx)?;
    Ok(())
}

type PlacedRow = (
    super::buildings::Row,
    super::units::Row,
    super::tags::Row,
    Row,
    Option<super::rooms::Row>,
);

/// The fixture with this key, with its place.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, scope: &Scope, id: FixtureId) -> Result<Placed> {
    let found: Option<PlacedRow> = fixtures::table
        .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
        .inner_join(units::table.on(units::id.eq(tags::unit_id)))
        .inner_join(buildings::table.on(buildings::id.eq(units::building_id)))
        .left_join(rooms::table.on(rooms::id.nullable().eq(tags::room_id)))
        .filter(fixtures::id.eq(id.0))
        .select((
            buildings::all_columns,
            units::all_columns,
            tags::all_columns,
            fixtures::all_columns,
            rooms::all_columns.nullable(),
        ))
        .first(conn)
        .optional()?;
    let (building, unit, tag, fixture, room) = found.ok_or_else(|| Error::not_found("such fixture"))?;
    let placed = Placed {
        building: building.try_into()?,
        unit: unit.try_into()?,
        room: room.map(super::rooms::room),
        tag: super::tags::tag(tag),
        fixture: fixture.try_into()?,
    };
    if !scope.sees(placed.building.id) {
        return Err(Error::not_found("such fixture"));
    }
    Ok(placed)
}

/// What is in service at a place.
///
/// # Errors
/// When the database does not answer.
pub fn in_service_at(conn: &mut AnyConnection, tag: TagId) -> Result<Option<Fixture>> {
    let row: Option<Row> = fixtures::table
        .filter(fixtures::tag_id.eq(tag.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .first(conn)
        .optional()?;
    row.map(Fixture::try_from).transpose()
}

/// Everything that stands or stood at a place, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn history_of(conn: &mut AnyConnection, tag: TagId) -> Result<Vec<Fixture>> {
    let rows: Vec<Row> = fixtures::table
        .filter(fixtures::tag_id.eq(tag.0))
        .order((fixtures::stood_from.desc(), fixtures::id.desc()))
        .load(conn)?;
    rows.into_iter().map(Fixture::try_from).collect()
}

/// What is in service in a unit that the caller may see, in the order of the walk: room by room, places without a room last.
///
/// # Errors
/// When the database does not answer.
pub fn standing_in(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Standing>> {
    let rows: Vec<(super::tags::Row, Row, Option<super::rooms::Row>)> = fixtures::table
        .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
        .left_join(rooms::table.on(rooms::id.nullable().eq(tags::room_id)))
        .filter(tags::unit_id.eq(unit.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .order((
            rooms::id.is_null(),
            rooms::walk_order,
            rooms::id,
            tags::label_order,
            tags::id,
        ))
        .select((
            tags::all_columns,
            fixtures::all_columns,
            rooms::all_columns.nullable(),
        ))
        .load(conn)?;
    let keys: Vec<_> = rows.iter().map(|(_, row, _)| FixtureId(row.id)).collect();
    let mut parts = super::parts::in_service_of(conn, &keys)?;
    rows.into_iter()
        .map(|(tag, row, room)| {
            let fixture = Fixture::try_from(row)?;
            Ok(Standing {
                room: room.map(super::rooms::room),
                tag: super::tags::tag(tag),
                parts: parts.remove(&fixture.id).unwrap_or_default(),
                fixture,
            })
        })
        .collect()
}

/// The keys of what is in service in a unit.
///
/// # Errors
/// When the database does not answer.
pub fn keys_in_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<FixtureId>> {
    let keys: Vec<i64> = fixtures::table
        .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
        .filter(tags::unit_id.eq(unit.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .order(fixtures::id)
        .select(fixtures::id)
        .load(conn)?;
    Ok(keys.into_iter().map(FixtureId).collect())
}

/// The first day on which each fixture of a building stood there.
///
/// # Errors
/// When the database does not answer.
pub fn stood_from(
    conn: &mut AnyConnection,
    building: crate::domain::register::BuildingId,
) -> Result<std::collections::HashMap<FixtureId, NaiveDate>> {
    let rows: Vec<(i64, NaiveDate)> = fixtures::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq(building.0))
        .select((fixtures::id, fixtures::stood_from))
        .load(conn)?;
    Ok(rows.into_iter().map(|(id, day)| (FixtureId(id), day)).collect())
}

/// The last local day of a fixture; none while it stands, or when there is none.
///
/// # Errors
/// When the database does not answer.
pub fn stood_until(conn: &mut AnyConnection, id: FixtureId) -> Result<Option<NaiveDate>> {
    let found: Option<Option<NaiveDate>> = fixtures::table
        .find(id.0)
        .select(fixtures::stood_until)
        .first(conn)
        .optional()?;
    Ok(found.flatten())
}
