//! A building with everything that stands in it, addressed by codes and labels, so that it can leave one register and enter another.
//!
//! Each line has its key when it is stored already and none when it is not. Lists have one order that depends on nothing but what
//! they hold, so that the same fleet is always written the same way. Knows no file and no database.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::label::sort_order;
use super::{
    BuildingFacts, BuildingId, FixtureFacts, FixtureId, HouseholdFacts, HouseholdId, PartFacts, PartId,
    RoomId, Service, TagId, TurnoverId, UnitFacts, UnitId,
};
use crate::domain::trade::PartKind;

/// A building and all that belongs to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inventory {
    /// Key, when stored.
    pub id: Option<BuildingId>,
    /// Code of the portfolio whose it is.
    pub portfolio: String,
    /// Mail address of the technician who looks after it.
    pub technician: Option<String>,
    /// What it is.
    pub facts: BuildingFacts,
    /// By label.
    pub units: Vec<UnitInventory>,
}

/// A unit and all that belongs to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitInventory {
    /// Key, when stored.
    pub id: Option<UnitId>,
    /// Its open turnover, which moves its occupancy.
    pub turnover: Option<TurnoverId>,
    /// Its place in the first interval, millionths of it; none lets the register choose.
    pub spread_ppm: Option<i64>,
    /// What it is.
    pub facts: UnitFacts,
    /// By move-in.
    pub households: Vec<HouseholdLine>,
    /// In the order of the walk.
    pub rooms: Vec<RoomLine>,
    /// By label.
    pub tags: Vec<TagInventory>,
}

/// A household of a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HouseholdLine {
    /// Key, when stored.
    pub id: Option<HouseholdId>,
    /// Local date, none while they live there.
    pub moved_out_on: Option<NaiveDate>,
    /// Who.
    pub facts: HouseholdFacts,
}

/// A room of a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoomLine {
    /// Key, when stored.
    pub id: Option<RoomId>,
    /// Unique in the unit.
    pub name: String,
    /// 1 is first.
    pub walk_order: i64,
}

/// A place and what stood there, one after the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TagInventory {
    /// Key, when stored.
    pub id: Option<TagId>,
    /// Unique in the unit.
    pub label: String,
    /// Name of its room.
    pub room: Option<String>,
    /// When checks were last done before the register knew of it.
    pub prior_done: BTreeMap<PriorCheck, NaiveDate>,
    /// In the order in which they stood there.
    pub fixtures: Vec<FixtureLine>,
}

/// A check at a place, on the fixture itself or on one of its parts.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PriorCheck {
    /// Code of the check.
    pub check: String,
    /// None for the fixture itself.
    pub part: Option<PartKind>,
}

/// The days on which something stood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stood {
    /// Whether it does its work.
    pub status: Service,
    /// First local day it counts.
    pub from: NaiveDate,
    /// First local day it no longer stood there; none while in service.
    pub until: Option<NaiveDate>,
}

/// A fixture at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixtureLine {
    /// Key, when stored.
    pub id: Option<FixtureId>,
    /// From when to when.
    pub stood: Stood,
    /// Which of the fixtures of this place it replaced, by its position.
    pub replaces: Option<usize>,
    /// What it is.
    pub facts: FixtureFacts,
    /// By kind, then in the order in which they were there.
    pub parts: Vec<PartLine>,
}

/// A part of a fixture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartLine {
    /// Key, when stored.
    pub id: Option<PartId>,
    /// From when to when.
    pub stood: Stood,
    /// What it is.
    pub facts: PartFacts,
}

impl Stood {
    /// Whether it does its work now.
    #[must_use]
    pub fn is_in_service(&self) -> bool {
        self.status == Service::InService
    }

    /// The order of one after the other: by the first day, then by the last, what still stands at the end.
    #[must_use]
    pub fn order(&self) -> (NaiveDate, NaiveDate) {
        (self.from, self.until.unwrap_or(NaiveDate::MAX))
    }
}

impl TagInventory {
    /// What stands there now.
    #[must_use]
    pub fn in_service(&self) -> Option<&FixtureLine> {
        self.fixtures.iter().find(|line| line.stood.is_in_service())
    }

    /// Puts the fixtures in the order in which they stood there; those of the same days keep theirs.
    pub fn sort_fixtures(&mut self) {
        let mut order: Vec<usize> = (0..self.fixtures.len()).collect();
        order.sort_by_key(|&index| self.fixtures.get(index).map(|line| line.stood.order()));
        let position_of = |old: usize| order.iter().position(|&index| index == old);
        let mut sorted: Vec<FixtureLine> = order
            .iter()
            .filter_map(|&index| self.fixtures.get(index).cloned())
            .collect();
        for line in &mut sorted {
            line.replaces = line.replaces.and_then(position_of);
            line.parts
                .sort_by_key(|part| (part.facts.kind, part.stood.order()));
        }
        self.fixtures = sorted;
    }
}

impl Inventory {
    /// Puts every list in its one order.
    pub fn sort(&mut self) {
        self.units.sort_by_cached_key(|unit| by_label(&unit.facts.label));
        for unit in &mut self.units {
            unit.households.sort_by_cached_key(|line| {
                let facts = &line.facts;
                (
                    facts.moved_in_on,
                    line.moved_out_on,
                    facts.name.clone(),
                    facts.contact.clone(),
                )
            });
            unit.rooms
                .sort_by_cached_key(|room| (room.walk_order, room.name.clone()));
            unit.tags.sort_by_cached_key(|tag| by_label(&tag.label));
            for tag in &mut unit.tags {
                tag.sort_fixtures();
            }
        }
    }
}

fn by_label(label: &str) -> (String, String) {
    (sort_order(label), label.to_owned())
}
