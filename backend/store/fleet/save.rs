//! Stores what became of a building: its own line, then table by table what belongs to it, in the order in which one needs the other.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::insert::{self, NewFixture, NewHousehold, NewPart, NewPrior, NewRoom, NewTag, NewUnit};
use super::keys::take;
use crate::domain::register::inventory::{
    FixtureLine, HouseholdLine, Inventory, PartLine, RoomLine, TagInventory, UnitInventory,
};
use crate::domain::register::unit::spread_of;
use crate::domain::register::{
    Building, BuildingId, CheckId, Fixture, FixtureId, Household, HouseholdId, Part, PartId, PersonId,
    PortfolioId, Room, RoomId, Tag, TagId, Unit, UnitId,
};
use crate::error::{Error, Result};
use crate::store::schema::units;
use crate::store::{self, Tx};

/// What the lines of an inventory refer to, by code and address.
#[derive(Debug, Default)]
pub struct Register {
    /// Portfolios by code.
    pub portfolios: HashMap<String, PortfolioId>,
    /// Technicians by mail address.
    pub technicians: HashMap<String, PersonId>,
    /// Checks by code.
    pub checks: HashMap<String, CheckId>,
}

/// Stores what became of a building; `known` is what is stored now. Answers with its fixtures when anything was written, those that
/// no longer stand too, so that their due rows can be renewed.
///
/// # Errors
/// When something it refers to is not in `register`, or the database refuses.
pub fn save(
    tx: &mut Tx<'_>,
    register: &Register,
    known: Option<&Inventory>,
    mut wanted: Inventory,
    at: NaiveDateTime,
) -> Result<Vec<FixtureId>> {
    if known == Some(&wanted) {
        return Ok(Vec::new());
    }
    let building = save_building(tx, register, known, &wanted, at)?;
    let before = known.map(Before::of).unwrap_or_default();
    save_units(tx, building, &before, &mut wanted)?;
    save_households(tx, &before, &wanted)?;
    save_rooms(tx, &before, &mut wanted)?;
    save_tags(tx, &before, &mut wanted)?;
    save_fixtures(tx, &before, &mut wanted)?;
    save_parts(tx, &before, &wanted)?;
    save_prior(tx, register, &before, &wanted)?;
    let lines = tags(&wanted).flat_map(|(_, tag)| &tag.fixtures);
    Ok(lines.filter_map(|line| line.id).collect())
}

/// What is stored now, by key.
#[derive(Default)]
struct Before<'k> {
    units: HashMap<UnitId, &'k UnitInventory>,
    households: HashMap<HouseholdId, &'k HouseholdLine>,
    rooms: HashMap<RoomId, &'k RoomLine>,
    tags: HashMap<TagId, &'k TagInventory>,
    fixtures: HashMap<FixtureId, (&'k TagInventory, &'k FixtureLine)>,
    parts: HashMap<PartId, &'k PartLine>,
}

impl<'k> Before<'k> {
    fn of(known: &'k Inventory) -> Self {
        let mut before = Self::default();
        for unit in &known.units {
            before.units.extend(unit.id.map(|id| (id, unit)));
            let households = unit.households.iter().filter_map(|line| Some((line.id?, line)));
            before.households.extend(households);
            let rooms = unit.rooms.iter().filter_map(|line| Some((line.id?, line)));
            before.rooms.extend(rooms);
        }
        for (_, tag) in tags(known) {
            before.tags.extend(tag.id.map(|id| (id, tag)));
            for line in &tag.fixtures {
                before.fixtures.extend(line.id.map(|id| (id, (tag, line))));
                let parts = line.parts.iter().filter_map(|part| Some((part.id?, part)));
                before.parts.extend(parts);
            }
        }
        before
    }
}

fn tags(inventory: &Inventory) -> impl Iterator<Item = (&UnitInventory, &TagInventory)> {
    inventory
        .units
        .iter()
        .flat_map(|unit| unit.tags.iter().map(move |tag| (unit, tag)))
}

/// Something that was given a key before has one; anything else is a fault of ours.
fn keyed<I>(id: Option<I>) -> Result<I> {
    id.ok_or_else(|| Error::internal("a line of the fleet was to be stored before what it belongs to"))
}

fn referred<V: Copy>(map: &HashMap<String, V>, noun: &str, code: &str) -> Result<V> {
    map.get(code).copied().ok_or_else(|| {
        Error::Conflict(format!(
            "The {noun} {code} went away meanwhile. Import the file again."
        ))
    })
}

fn save_building(
    tx: &mut Tx<'_>,
    register: &Register,
    known: Option<&Inventory>,
    wanted: &Inventory,
    at: NaiveDateTime,
) -> Result<BuildingId> {
    let portfolio = referred(&register.portfolios, "portfolio", &wanted.portfolio)?;
    let technician = wanted.technician.as_ref();
    let technician = match technician {
        Some(email) if known.is_none_or(|known| known.technician.as_ref() != Some(email)) => {
            Some(referred(&register.technicians, "technician", email)?)
        }
        Some(email) => register.technicians.get(email).copied(),
        None => None,
    };
    let id = match wanted.id {
        None => store::buildings::insert(tx, portfolio, technician, &wanted.facts, at)?,
        Some(id) => {
            let is_same = known.is_some_and(|known| {
                known.portfolio == wanted.portfolio
                    && known.technician == wanted.technician
                    && known.facts == wanted.facts
            });
            if is_same {
                return Ok(id);
            }
            let building = Building {
                id,
                portfolio,
                technician,
                facts: wanted.facts.clone(),
            };
            store::buildings::update(tx, &building)?;
            id
        }
    };
    if let Some(technician) = technician {
        store::buildings::let_see(tx, technician, id)?;
    }
    Ok(id)
}

fn save_units(
    tx: &mut Tx<'_>,
    building: BuildingId,
    before: &Before<'_>,
    wanted: &mut Inventory,
) -> Result<()> {
    let new = wanted.units.iter().filter(|unit| unit.id.is_none()).count();
    let mut keys = take(tx, "units", new)?;
    let mut rows = Vec::new();
    for unit in &mut wanted.units {
        let Some(id) = unit.id else {
            let id = UnitId(keyed(keys.next())?);
            unit.id = Some(id);
            let spread_ppm = *unit.spread_ppm.get_or_insert(spread_of(id));
            rows.push(NewUnit::new(id, building, spread_ppm, &unit.facts));
            continue;
        };
        let known = keyed(before.units.get(&id))?;
        if known.facts != unit.facts {
            let unit = Unit {
                id,
                building,
                spread_ppm: unit.spread_ppm.unwrap_or_default(),
                facts: unit.facts.clone(),
            };
            store::units::update(tx, &unit)?;
        }
        if known.spread_ppm != unit.spread_ppm {
            diesel::update(units::table.find(id.0))
                .set(units::spread_ppm.eq(unit.spread_ppm.unwrap_or(spread_of(id))))
                .execute(&mut **tx)?;
        }
    }
    insert::units(tx, &rows)
}

fn save_households(tx: &mut Tx<'_>, before: &Before<'_>, wanted: &Inventory) -> Result<()> {
    let mut rows = Vec::new();
    for unit in &wanted.units {
        let unit_id = keyed(unit.id)?;
        for line in &unit.households {
            match line.id {
                None => rows.push(NewHousehold::new(unit_id, line)),
                Some(id) if before.households.get(&id) == Some(&line) => {}
                Some(id) => {
                    let household = Household {
                        id,
                        unit: unit_id,
                        moved_out_on: line.moved_out_on,
                        facts: line.facts.clone(),
                    };
                    store::households::update(tx, &household)?;
                }
            }
        }
    }
    insert::households(tx, &rows)
}

fn save_rooms(tx: &mut Tx<'_>, before: &Before<'_>, wanted: &mut Inventory) -> Result<()> {
    let rooms = wanted.units.iter().flat_map(|unit| &unit.rooms);
    let mut keys = take(tx, "rooms", rooms.filter(|room| room.id.is_none()).count())?;
    let mut rows = Vec::new();
    for unit in &mut wanted.units {
        let unit_id = keyed(unit.id)?;
        for line in &mut unit.rooms {
            match line.id {
                None => {
                    let id = RoomId(keyed(keys.next())?);
                    line.id = Some(id);
                    rows.push(NewRoom::new(id, unit_id, line));
                }
                Some(id) if before.rooms.get(&id).is_some_and(|known| **known == *line) => {}
                Some(id) => {
                    let room = Room {
                        id,
                        unit: unit_id,
                        name: line.name.clone(),
                        walk_order: line.walk_order,
                    };
                    store::rooms::update(tx, &room)?;
                }
            }
        }
    }
    insert::rooms(tx, &rows)
}

fn save_tags(tx: &mut Tx<'_>, before: &Before<'_>, wanted: &mut Inventory) -> Result<()> {
    let new = tags(wanted).filter(|(_, tag)| tag.id.is_none()).count();
    let mut keys = take(tx, "tags", new)?;
    let mut rows = Vec::new();
    for unit in &mut wanted.units {
        let unit_id = keyed(unit.id)?;
        let rooms: HashMap<&str, Option<RoomId>> = unit
            .rooms
            .iter()
            .map(|room| (room.name.as_str(), room.id))
            .collect();
        for line in &mut unit.tags {
            let room = match &line.room {
                None => None,
                Some(name) => Some(keyed(rooms.get(name.as_str()).copied().flatten())?),
            };
            match line.id {
                None => {
                    let id = TagId(keyed(keys.next())?);
                    line.id = Some(id);
                    rows.push(NewTag::new(id, unit_id, room, &line.label));
                }
                Some(id) if before.tags.get(&id).is_some_and(|known| known.room == line.room) => {}
                Some(id) => {
                    let tag = Tag {
                        id,
                        unit: unit_id,
                        room,
                        label: line.label.clone(),
                    };
                    store::tags::update(tx, &tag)?;
                }
            }
        }
    }
    insert::tags(tx, &rows)
}

fn save_fixtures(tx: &mut Tx<'_>, before: &Before<'_>, wanted: &mut Inventory) -> Result<()> {
    let lines = tags(wanted).flat_map(|(_, tag)| &tag.fixtures);
    let mut keys = take(tx, "fixtures", lines.filter(|line| line.id.is_none()).count())?;
    let mut rows = Vec::new();
    let mut changed = Vec::new();
    for unit in &mut wanted.units {
        for tag in &mut unit.tags {
            let tag_id = keyed(tag.id)?;
            let was_new: Vec<bool> = tag.fixtures.iter().map(|line| line.id.is_none()).collect();
            for line in tag.fixtures.iter_mut().filter(|line| line.id.is_none()) {
                line.id = Some(FixtureId(keyed(keys.next())?));
            }
            for (line, is_new) in tag.fixtures.iter().zip(was_new) {
                let id = keyed(line.id)?;
                let replaces = replaced(tag, line);
                if is_new {
                    rows.push(NewFixture::new(id, tag_id, replaces, line));
                    continue;
                }
                let (known_tag, known) = keyed(before.fixtures.get(&id))?;
                let is_same = known.facts == line.facts
                    && known.stood == line.stood
                    && replaced(known_tag, known) == replaces;
                if !is_same {
                    changed.push(Fixture {
                        id,
                        tag: tag_id,
                        status: line.stood.status,
                        stood_from: line.stood.from,
                        stood_until: line.stood.until,
                        replaces,
                        facts: line.facts.clone(),
                    });
                }
            }
        }
    }
    // Only one is in service at a place: what leaves goes first. What it is replaced by may be new, so that comes last.
    changed.sort_by_key(|fixture| fixture.stood_until.is_none());
    for fixture in &changed {
        let replaces = fixture.replaces.filter(|old| before.fixtures.contains_key(old));
        store::fixtures::update(
            tx,
            &Fixture {
                replaces,
                ..fixture.clone()
            },
        )?;
    }
    insert::fixtures(tx, &rows)?;
    for fixture in &changed {
        if fixture
            .replaces
            .is_some_and(|old| !before.fixtures.contains_key(&old))
        {
            store::fixtures::update(tx, fixture)?;
        }
    }
    Ok(())
}

fn replaced(tag: &TagInventory, line: &FixtureLine) -> Option<FixtureId> {
    tag.fixtures.get(line.replaces?).and_then(|old| old.id)
}

fn save_parts(tx: &mut Tx<'_>, before: &Before<'_>, wanted: &Inventory) -> Result<()> {
    let mut rows = Vec::new();
    let mut changed = Vec::new();
    for line in tags(wanted).flat_map(|(_, tag)| &tag.fixtures) {
        let fixture = keyed(line.id)?;
        for part in &line.parts {
            match part.id {
                None => rows.push(NewPart::new(fixture, part)),
                Some(id) if before.parts.get(&id) == Some(&part) => {}
                Some(id) => changed.push(Part {
                    id,
                    fixture,
                    status: part.stood.status,
                    stood_from: part.stood.from,
                    stood_until: part.stood.until,
                    facts: part.facts,
                }),
            }
        }
    }
    changed.sort_by_key(|part| part.stood_until.is_none());
    for part in &changed {
        store::parts::update(tx, part)?;
    }
    insert::parts(tx, &rows)
}

fn save_prior(tx: &mut Tx<'_>, register: &Register, before: &Before<'_>, wanted: &Inventory) -> Result<()> {
    let mut rows = Vec::new();
    for (_, tag) in tags(wanted) {
        let id = keyed(tag.id)?;
        let known = before.tags.get(&id).map(|known| &known.prior_done);
        for (check, day) in &tag.prior_done {
            if known.and_then(|known| known.get(check)) != Some(day) {
                let check_id = referred(&register.checks, "check", &check.check)?;
                rows.push(NewPrior::new(id, check.part, check_id, *day));
            }
        }
    }
    insert::prior(tx, &rows)
}
