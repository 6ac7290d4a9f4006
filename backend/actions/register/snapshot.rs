//! What the audit trail keeps of a record before and after a change. Of a household only that it is one: its name and contact are
//! erased some months after move-out, and the trail is not.

use serde_json::{Value, json};

use crate::domain::code::Coded as _;
use crate::domain::register::{
    Building, Fixture, Household, Installed, Part, PortfolioFacts, Room, Tag, Unit,
};

/// A portfolio.
#[must_use]
pub fn portfolio(facts: &PortfolioFacts) -> Value {
    json!({"code": facts.code, "name": facts.name})
}

/// A building.
#[must_use]
pub fn building(building: &Building) -> Value {
    let facts = &building.facts;
    json!({
        "code": facts.code, "name": facts.name, "address": facts.address,
        "portfolio_id": building.portfolio.0, "technician_id": building.technician.map(|id| id.0),
        "time_zone": facts.time_zone.name(), "code_profile": facts.code_profile.as_str(),
        "length_unit": facts.length_unit.code(), "notice_hours": facts.notice_hours,
        "joined_on": facts.joined_on, "built_year": facts.built_year, "base_joint": facts.base_joint.code(),
    })
}

/// A unit.
#[must_use]
pub fn unit(unit: &Unit) -> Value {
    let facts = &unit.facts;
    json!({
        "building_id": unit.building.0, "label": facts.label, "kind": facts.kind.code(), "floor": facts.floor,
        "riser": facts.riser, "occupancy": facts.occupancy.code(),
    })
}

/// A household, without who they are.
#[must_use]
pub fn household(household: &Household) -> Value {
    json!({
        "unit_id": household.unit.0, "moved_in_on": household.facts.moved_in_on,
        "moved_out_on": household.moved_out_on,
    })
}

/// The rooms of a unit.
#[must_use]
pub fn rooms(rooms: &[Room]) -> Value {
    rooms
        .iter()
        .map(|room| json!({"id": room.id.0, "name": room.name, "walk_order": room.walk_order}))
        .collect()
}

/// A place.
#[must_use]
pub fn tag(tag: &Tag) -> Value {
    json!({"unit_id": tag.unit.0, "room_id": tag.room.map(|id| id.0), "label": tag.label})
}

/// A fixture.
#[must_use]
pub fn fixture(fixture: &Fixture) -> Value {
    let facts = &fixture.facts;
    json!({
        "tag_id": fixture.tag.0, "kind": facts.kind.code(), "maker": facts.maker, "model": facts.model,
        "installed": installed(facts.installed), "status": fixture.status.code(),
        "stood_from": fixture.stood_from, "stood_until": fixture.stood_until,
        "replaces_id": fixture.replaces.map(|id| id.0), "note": facts.note,
    })
}

/// A part.
#[must_use]
pub fn part(part: &Part) -> Value {
    json!({
        "fixture_id": part.fixture.0, "kind": part.facts.kind.code(), "installed": installed(part.facts.installed),
        "status": part.status.code(), "stood_from": part.stood_from, "stood_until": part.stood_until,
    })
}

fn installed(installed: Installed) -> Value {
    match installed {
        Installed::Unknown => Value::Null,
        Installed::On(date) => json!(date),
        Installed::About(date) => json!({"about": date}),
    }
}
