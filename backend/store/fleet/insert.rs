//! New lines in statements of many rows, one type a table.

use chrono::NaiveDate;
use diesel::prelude::*;
use diesel::upsert::excluded;

use crate::domain::code::Coded;
use crate::domain::register::inventory::{FixtureLine, HouseholdLine, PartLine, RoomLine};
use crate::domain::register::label::sort_order;
use crate::domain::register::{BuildingId, CheckId, FixtureId, RoomId, TagId, UnitFacts, UnitId};
use crate::domain::trade::PartKind;
use crate::error::Result;
use crate::store::Tx;
use crate::store::schema::{fixtures, households, parts, prior_done, rooms, tags, units};

/// Rows of one statement: at most 13 columns each, far from the 32,766 values that SQLite takes.
const CHUNK: usize = 500;

macro_rules! insert_all {
    ($($(#[$meta:meta])* $name:ident: $row:ident into $table:ident;)+) => { $(
        $(#[$meta])*
        pub(super) fn $name(tx: &mut Tx<'_>, rows: &[$row<'_>]) -> Result<()> {
            for chunk in rows.chunks(CHUNK) {
                crate::on_each!(&mut **tx, inner => diesel::insert_into($table::table)
                    .values(chunk)
                    .execute(inner)
                    .map(|_rows| ()))?;
            }
            Ok(())
        }
    )+ };
}

insert_all! {
    units: NewUnit into units;
    households: NewHousehold into households;
    rooms: NewRoom into rooms;
    tags: NewTag into tags;
    fixtures: NewFixture into fixtures;
    parts: NewPart into parts;
}

/// Last-done days, new or another than before.
pub(super) fn prior(tx: &mut Tx<'_>, rows: &[NewPrior]) -> Result<()> {
    for chunk in rows.chunks(CHUNK) {
        crate::on_each!(&mut **tx, inner => diesel::insert_into(prior_done::table)
            .values(chunk)
            .on_conflict((prior_done::tag_id, prior_done::part, prior_done::check_id))
            .do_update()
            .set(prior_done::done_on.eq(excluded(prior_done::done_on)))
            .execute(inner)
            .map(|_rows| ()))?;
    }
    Ok(())
}

#[derive(Insertable)]
#[diesel(table_name = units, treat_none_as_default_value = false)]
pub(super) struct NewUnit<'a> {
    id: i64,
    building_id: i64,
    label: String,
    label_order: String,
    kind: &'a str,
    floor: i64,
    riser: Option<i64>,
    occupancy: &'a str,
    spread_ppm: i64,
}

impl NewUnit<'static> {
    pub(super) fn new(id: UnitId, building: BuildingId, spread_ppm: i64, facts: &UnitFacts) -> Self {
        Self {
            id: id.0,
            building_id: building.0,
            label: facts.label.clone(),
            label_order: sort_order(&facts.label),
            kind: facts.kind.code(),
            floor: facts.floor,
            riser: facts.riser,
            occupancy: facts.occupancy.code(),
            spread_ppm,
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = households, treat_none_as_default_value = false)]
pub(super) struct NewHousehold<'a> {
    unit_id: i64,
    name: &'a str,
    language: &'a str,
    contact: &'a str,
    agreed_hours: &'a str,
    no_entry_days: &'a str,
    moved_in_on: NaiveDate,
    moved_out_on: Option<NaiveDate>,
}

impl<'a> NewHousehold<'a> {
    pub(super) fn new(unit: UnitId, line: &'a HouseholdLine) -> Self {
        let facts = &line.facts;
        Self {
            unit_id: unit.0,
            name: &facts.name,
            language: &facts.language,
            contact: &facts.contact,
            agreed_hours: &facts.agreed_hours,
            no_entry_days: &facts.no_entry_days,
            moved_in_on: facts.moved_in_on,
            moved_out_on: line.moved_out_on,
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = rooms, treat_none_as_default_value = false)]
pub(super) struct NewRoom<'a> {
    id: i64,
    unit_id: i64,
    name: std::borrow::Cow<'a, str>,
    walk_order: i64,
}

impl NewRoom<'static> {
    pub(super) fn new(id: RoomId, unit: UnitId, line: &RoomLine) -> Self {
        Self {
            id: id.0,
            unit_id: unit.0,
            name: line.name.clone().into(),
            walk_order: line.walk_order,
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = tags, treat_none_as_default_value = false)]
pub(super) struct NewTag<'a> {
    id: i64,
    unit_id: i64,
    room_id: Option<i64>,
    label: std::borrow::Cow<'a, str>,
    label_order: String,
}

impl NewTag<'static> {
    pub(super) fn new(id: TagId, unit: UnitId, room: Option<RoomId>, label: &str) -> Self {
        Self {
            id: id.0,
            unit_id: unit.0,
            room_id: room.map(|room| room.0),
            label: label.to_owned().into(),
            label_order: sort_order(label),
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = fixtures, treat_none_as_default_value = false)]
pub(super) struct NewFixture<'a> {
    id: i64,
    tag_id: i64,
    kind: &'a str,
    maker: String,
    model: String,
    installed_on: Option<NaiveDate>,
    installed_estimated: bool,
    status: &'a str,
    stood_from: NaiveDate,
    stood_until: Option<NaiveDate>,
    replaces_id: Option<i64>,
    note: String,
}

impl NewFixture<'static> {
    pub(super) fn new(id: FixtureId, tag: TagId, replaces: Option<FixtureId>, line: &FixtureLine) -> Self {
        let facts = &line.facts;
        Self {
            id: id.0,
            tag_id: tag.0,
            kind: facts.kind.code(),
            maker: facts.maker.clone(),
            model: facts.model.clone(),
            installed_on: facts.installed.date(),
            installed_estimated: facts.installed.is_estimated(),
            status: line.stood.status.code(),
            stood_from: line.stood.from,
            stood_until: line.stood.until,
            replaces_id: replaces.map(|old| old.0),
            note: facts.note.clone(),
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = parts, treat_none_as_default_value = false)]
pub(super) struct NewPart<'a> {
    fixture_id: i64,
    kind: &'a str,
    installed_on: Option<NaiveDate>,
    installed_estimated: bool,
    status: &'a str,
    stood_from: NaiveDate,
    stood_until: Option<NaiveDate>,
}

impl NewPart<'static> {
    pub(super) fn new(fixture: FixtureId, line: &PartLine) -> Self {
        Self {
            fixture_id: fixture.0,
            kind: line.facts.kind.code(),
            installed_on: line.facts.installed.date(),
            installed_estimated: line.facts.installed.is_estimated(),
            status: line.stood.status.code(),
            stood_from: line.stood.from,
            stood_until: line.stood.until,
        }
    }
}

#[derive(Insertable)]
#[diesel(table_name = prior_done, treat_none_as_default_value = false)]
pub(super) struct NewPrior {
    tag_id: i64,
    part: &'static str,
    check_id: i64,
    done_on: NaiveDate,
}

impl NewPrior {
    pub(super) fn new(tag: TagId, part: Option<PartKind>, check: CheckId, day: NaiveDate) -> Self {
        Self {
            tag_id: tag.0,
            part: part.map_or("", Coded::code),
            check_id: check.0,
            done_on: day,
        }
    }
}
