//! Reads buildings with everything that stands in them: one query a table for many buildings.

use std::collections::HashMap;
use std::hash::Hash;

use chrono::NaiveDate;
use diesel::prelude::*;

use super::prior_check;
use crate::domain::register::inventory::{
    FixtureLine, HouseholdLine, Inventory, PartLine, PriorCheck, RoomLine, Stood, TagInventory, UnitInventory,
};
use crate::domain::register::{
    Building, BuildingId, Fixture, FixtureId, Household, Part, Room, Tag, TagId, TurnoverId, Unit, UnitId,
};
use crate::error::Result;
use crate::store::schema::{
    buildings, checks, fixtures, households, parts, people, portfolios, prior_done, rooms, tags, turnovers,
    units,
};
use crate::store::{AnyConnection, rooms as stored_rooms, tags as stored_tags};

/// The buildings with these keys, in the order of the keys, each with everything that stands in it in its one order.
///
/// # Errors
/// When the database does not answer.
pub fn load(conn: &mut AnyConnection, keys: &[BuildingId]) -> Result<Vec<Inventory>> {
    let ids: Vec<i64> = keys.iter().map(|key| key.0).collect();
    let mut contents = Contents::load(conn, &ids)?;
    let mut units = contents.units(conn, &ids)?;
    let rows: Vec<(crate::store::buildings::Row, String, Option<String>)> = buildings::table
        .inner_join(portfolios::table)
        .left_join(people::table)
        .filter(buildings::id.eq_any(&ids))
        .select((buildings::all_columns, portfolios::code, people::email.nullable()))
        .load(conn)?;
    let mut by_id = HashMap::new();
    for (row, portfolio, technician) in rows {
        let building = Building::try_from(row)?;
        let mut inventory = Inventory {
            id: Some(building.id),
            portfolio,
            technician,
            units: units.remove(&building.id).unwrap_or_default(),
            facts: building.facts,
        };
        inventory.sort();
        by_id.insert(building.id, inventory);
    }
    Ok(keys.iter().filter_map(|key| by_id.remove(key)).collect())
}

/// What stands in some buildings, by what it belongs to.
struct Contents {
    turnovers: HashMap<UnitId, TurnoverId>,
    households: HashMap<UnitId, Vec<HouseholdLine>>,
    rooms: HashMap<UnitId, Vec<Room>>,
    tags: HashMap<UnitId, Vec<Tag>>,
    prior: HashMap<TagId, Vec<(PriorCheck, NaiveDate)>>,
    fixtures: HashMap<TagId, Vec<Fixture>>,
    parts: HashMap<FixtureId, Vec<Part>>,
}

impl Contents {
    fn load(conn: &mut AnyConnection, ids: &[i64]) -> Result<Self> {
        let open: Vec<(i64, i64)> = turnovers::table
            .filter(turnovers::building_id.eq_any(ids))
            .filter(turnovers::stage.eq_any(crate::store::turnovers::OPEN))
            .select((turnovers::unit_id, turnovers::id))
            .load(conn)?;
        let household_rows: Vec<crate::store::households::Row> = households::table
            .inner_join(units::table)
            .filter(units::building_id.eq_any(ids))
            .order(households::id)
            .select(households::all_columns)
            .load(conn)?;
        let room_rows: Vec<stored_rooms::Row> = rooms::table
            .inner_join(units::table)
            .filter(units::building_id.eq_any(ids))
            .select(rooms::all_columns)
            .load(conn)?;
        let tag_rows: Vec<stored_tags::Row> = tags::table
            .inner_join(units::table)
            .filter(units::building_id.eq_any(ids))
            .select(tags::all_columns)
            .load(conn)?;
        Ok(Self {
            turnovers: open
                .into_iter()
                .map(|(unit, id)| (UnitId(unit), TurnoverId(id)))
                .collect(),
            households: grouped(household_rows.into_iter().map(Household::from).map(|household| {
                let line = HouseholdLine {
                    id: Some(household.id),
                    moved_out_on: household.moved_out_on,
                    facts: household.facts,
                };
                (household.unit, line)
            })),
            rooms: grouped(
                room_rows
                    .into_iter()
                    .map(stored_rooms::room)
                    .map(|room| (room.unit, room)),
            ),
            tags: grouped(
                tag_rows
                    .into_iter()
                    .map(stored_tags::tag)
                    .map(|tag| (tag.unit, tag)),
            ),
            prior: prior(conn, ids)?,
            fixtures: fixtures(conn, ids)?,
            parts: parts(conn, ids)?,
        })
    }

    fn units(
        &mut self,
        conn: &mut AnyConnection,
        ids: &[i64],
    ) -> Result<HashMap<BuildingId, Vec<UnitInventory>>> {
        let rows: Vec<crate::store::units::Row> =
            units::table.filter(units::building_id.eq_any(ids)).load(conn)?;
        let mut by_building: HashMap<BuildingId, Vec<UnitInventory>> = HashMap::new();
        for row in rows {
            let unit = Unit::try_from(row)?;
            let building = unit.building;
            let unit = self.unit(unit);
            by_building.entry(building).or_default().push(unit);
        }
        Ok(by_building)
    }

    fn unit(&mut self, unit: Unit) -> UnitInventory {
        let rooms = self.rooms.remove(&unit.id).unwrap_or_default();
        let tags = self.tags.remove(&unit.id).unwrap_or_default();
        let tags = tags
            .into_iter()
            .map(|tag| {
                let room = rooms.iter().find(|room| Some(room.id) == tag.room);
                let room = room.map(|room| room.name.clone());
                self.tag(tag, room)
            })
            .collect();
        UnitInventory {
            id: Some(unit.id),
            turnover: self.turnovers.get(&unit.id).copied(),
            spread_ppm: Some(unit.spread_ppm),
            facts: unit.facts,
            households: self.households.remove(&unit.id).unwrap_or_default(),
            rooms: rooms
                .into_iter()
                .map(|room| RoomLine {
                    id: Some(room.id),
                    name: room.name,
                    walk_order: room.walk_order,
                })
                .collect(),
            tags,
        }
    }

    fn tag(&mut self, tag: Tag, room: Option<String>) -> TagInventory {
        let stored = self.fixtures.remove(&tag.id).unwrap_or_default();
        let fixtures = stored
            .iter()
            .map(|fixture| FixtureLine {
                id: Some(fixture.id),
                stood: Stood {
                    status: fixture.status,
                    from: fixture.stood_from,
                    until: fixture.stood_until,
                },
                replaces: fixture
                    .replaces
                    .and_then(|old| stored.iter().position(|other| other.id == old)),
                facts: fixture.facts.clone(),
                parts: self.parts_of(fixture.id),
            })
            .collect();
        TagInventory {
            id: Some(tag.id),
            label: tag.label,
            room,
            prior_done: self
                .prior
                .remove(&tag.id)
                .unwrap_or_default()
                .into_iter()
                .collect(),
            fixtures,
        }
    }

    fn parts_of(&mut self, fixture: FixtureId) -> Vec<PartLine> {
        let parts = self.parts.remove(&fixture).unwrap_or_default();
        parts
            .into_iter()
            .map(|part| PartLine {
                id: Some(part.id),
                stood: Stood {
                    status: part.status,
                    from: part.stood_from,
                    until: part.stood_until,
                },
                facts: part.facts,
            })
            .collect()
    }
}

fn fixtures(conn: &mut AnyConnection, ids: &[i64]) -> Result<HashMap<TagId, Vec<Fixture>>> {
    let rows: Vec<crate::store::fixtures::Row> = fixtures::table
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq_any(ids))
        .order(fixtures::id)
        .select(fixtures::all_columns)
        .load(conn)?;
    let fixtures = rows
        .into_iter()
        .map(Fixture::try_from)
        .collect::<Result<Vec<_>>>()?;
    Ok(grouped(
        fixtures.into_iter().map(|fixture| (fixture.tag, fixture)),
    ))
}

fn parts(conn: &mut AnyConnection, ids: &[i64]) -> Result<HashMap<FixtureId, Vec<Part>>> {
    let rows: Vec<crate::store::parts::Row> = parts::table
        .inner_join(fixtures::table.inner_join(tags::table.inner_join(units::table)))
        .filter(units::building_id.eq_any(ids))
        .order(parts::id)
        .select(parts::all_columns)
        .load(conn)?;
    let parts = rows
        .into_iter()
        .map(crate::store::parts::part)
        .collect::<Result<Vec<_>>>()?;
    Ok(grouped(parts.into_iter().map(|part| (part.fixture, part))))
}

fn prior(conn: &mut AnyConnection, ids: &[i64]) -> Result<HashMap<TagId, Vec<(PriorCheck, NaiveDate)>>> {
    let rows: Vec<(i64, String, String, NaiveDate)> = prior_done::table
        .inner_join(checks::table)
        .inner_join(tags::table.inner_join(units::table))
        .filter(units::building_id.eq_any(ids))
        .select((
            prior_done::tag_id,
            checks::code,
            prior_done::part,
            prior_done::done_on,
        ))
        .load(conn)?;
    let days = rows
        .into_iter()
        .map(|(tag, check, part, day)| Ok((TagId(tag), (prior_check(check, &part)?, day))))
        .collect::<Result<Vec<_>>>()?;
    Ok(grouped(days.into_iter()))
}

fn grouped<K: Eq + Hash, V>(pairs: impl Iterator<Item = (K, V)>) -> HashMap<K, Vec<V>> {
    let mut groups: HashMap<K, Vec<V>> = HashMap::new();
    for (key, value) in pairs {
        groups.entry(key).or_default().push(value);
    }
    groups
}
