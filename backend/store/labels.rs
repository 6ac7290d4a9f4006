//! Printed labels as stored: which code leads to which place. A code that ended stays, so that whoever scans it is told.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::coded::read_code;
use super::schema::{buildings, fixtures, labels, rooms, tags, units};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded as _;
use crate::domain::printed_label::LabelCode;
use crate::domain::register::fixture::Service;
use crate::domain::register::{BuildingId, PersonId, TagId, UnitId};
use crate::domain::trade::FixtureKind;
use crate::error::Result;

/// Where a code leads, or led.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The place.
    pub tag: TagId,
    /// Its label, such as `WC-1`.
    pub tag_label: String,
    /// Its unit.
    pub unit: UnitId,
    /// The unit's label.
    pub unit_label: String,
    /// The unit's building.
    pub building: BuildingId,
    /// The building's code.
    pub building_code: String,
    /// The building's name.
    pub building_name: String,
    /// The building's zone.
    pub zone: chrono_tz::Tz,
    /// UTC, when the label was withdrawn.
    pub ended_at: Option<NaiveDateTime>,
}

/// A place where something stands, with the code that leads to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Labelled {
    /// The place.
    pub tag: TagId,
    /// Its label.
    pub tag_label: String,
    /// The name of its room; empty when none was named.
    pub room: String,
    /// What stands there.
    pub kind: FixtureKind,
    /// Its unit.
    pub unit: UnitId,
    /// The unit's label.
    pub unit_label: String,
    /// The code; none while it has no label.
    pub code: Option<String>,
}

/// Stores the code of a place; none made it for the command line.
///
/// # Errors
/// When the code is taken, or the database refuses.
pub fn insert(
    tx: &mut Tx<'_>,
    code: &LabelCode,
    tag: TagId,
    now: NaiveDateTime,
    by: Option<PersonId>,
) -> Result<()> {
    diesel::insert_into(labels::table)
        .values((
            labels::code.eq(code.as_str()),
            labels::tag_id.eq(tag.0),
            labels::made_at.eq(now),
            labels::made_by.eq(by.map(|person| person.0)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Withdraws the codes of a place that lead to it.
///
/// # Errors
/// When the database refuses.
pub fn end(tx: &mut Tx<'_>, tag: TagId, now: NaiveDateTime) -> Result<()> {
    diesel::update(labels::table.filter(labels::tag_id.eq(tag.0).and(labels::ended_at.is_null())))
        .set(labels::ended_at.eq(Some(now)))
        .execute(&mut **tx)?;
    Ok(())
}

/// Where a code leads, or led before it was withdrawn. The caller holds the building against what the asker may see.
///
/// # Errors
/// When the database does not answer.
pub fn find(conn: &mut AnyConnection, code: &LabelCode) -> Result<Option<Found>> {
    type Columns = (
        (i64, String),
        (i64, String),
        (i64, String, String, String),
        Option<NaiveDateTime>,
    );
    let row: Option<Columns> = labels::table
        .inner_join(tags::table.inner_join(units::table.inner_join(buildings::table)))
        .filter(labels::code.eq(code.as_str()))
        .select((
            (tags::id, tags::label),
            (units::id, units::label),
            (
                buildings::id,
                buildings::code,
                buildings::name,
                buildings::time_zone,
            ),
            labels::ended_at,
        ))
        .first(conn)
        .optional()?;
    Ok(row.map(|(tag, unit, building, ended_at)| Found {
        tag: TagId(tag.0),
        tag_label: tag.1,
        unit: UnitId(unit.0),
        unit_label: unit.1,
        building: BuildingId(building.0),
        building_code: building.1,
        building_name: building.2,
        zone: building.3.parse().unwrap_or(chrono_tz::Tz::UTC),
        ended_at,
    }))
}

/// The codes that lead to each place of a unit, the newest first; a place without one is not among them.
///
/// # Errors
/// When the database does not answer.
pub fn codes_of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<HashMap<TagId, Vec<String>>> {
    let rows: Vec<(i64, String)> = labels::table
        .inner_join(tags::table)
        .filter(tags::unit_id.eq(unit.0))
        .filter(labels::ended_at.is_null())
        .order((labels::made_at.desc(), labels::code))
        .select((tags::id, labels::code))
        .load(conn)?;
    let mut codes: HashMap<TagId, Vec<String>> = HashMap::new();
    for (tag, code) in rows {
        codes.entry(TagId(tag)).or_default().push(code);
    }
    Ok(codes)
}

/// The places of a building where something stands, unit by unit in the order of a walk, each with its newest code.
///
/// # Errors
/// When the database does not answer. The caller may see the building.
pub fn of_building(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<Labelled>> {
    let codes: HashMap<i64, String> = labels::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq(building.0))
        .filter(labels::ended_at.is_null())
        .order((labels::made_at, labels::code))
        .select((tags::id, labels::code))
        .load::<(i64, String)>(conn)?
        .into_iter()
        .collect();
    type Columns = ((i64, String), Option<String>, String, (i64, String));
    let rows: Vec<Columns> = fixtures::table
        .inner_join(tags::table.left_join(rooms::table).inner_join(units::table))
        .filter(units::building_id.eq(building.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .order((
            units::label_order,
            units::id,
            rooms::id.is_null(),
            rooms::walk_order,
            tags::label_order,
            fixtures::id,
        ))
        .select((
            (tags::id, tags::label),
            rooms::name.nullable(),
            fixtures::kind,
            (units::id, units::label),
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(tag, room, kind, unit)| {
            Ok(Labelled {
                code: codes.get(&tag.0).cloned(),
                tag: TagId(tag.0),
                tag_label: tag.1,
                room: room.unwrap_or_default(),
                kind: read_code(&kind)?,
                unit: UnitId(unit.0),
                unit_label: unit.1,
            })
        })
        .collect()
}
