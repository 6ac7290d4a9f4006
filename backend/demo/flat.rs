//! An invented rental unit: its rooms, what stands in them, who lives there.

use chrono::{Days, NaiveDate};

use super::chance::Chance;
use super::house::Times;
use super::words::Words;
use crate::domain::register::inventory::{
    FixtureLine, HouseholdLine, PartLine, RoomLine, Stood, TagInventory, UnitInventory,
};
use crate::domain::register::tag::next_label;
use crate::domain::register::{
    FixtureFacts, HouseholdFacts, Installed, Occupancy, PartFacts, Service, UnitFacts, UnitKind,
};
use crate::domain::trade::{FixtureKind, PartKind};

/// A unit being furnished: room by room, tags numbered as they come.
pub struct Furnishing<'d> {
    days: &'d Times,
    words: &'d Words,
    rooms: Vec<RoomLine>,
    tags: Vec<TagInventory>,
}

impl<'d> Furnishing<'d> {
    /// An empty unit.
    #[must_use]
    pub fn new(days: &'d Times, words: &'d Words) -> Self {
        Self {
            days,
            words,
            rooms: Vec::new(),
            tags: Vec::new(),
        }
    }

    /// The next room of the walk, with what stands in it.
    pub fn room(&mut self, name: &str, kinds: &[FixtureKind], chance: &mut Chance) {
        let walk_order = self.rooms.len() as i64 + 1;
        self.rooms.push(RoomLine {
            id: None,
            name: name.to_owned(),
            walk_order,
        });
        for &kind in kinds {
            let label = next_label(kind, self.tags.iter().map(|tag| tag.label.as_str()));
            let fixtures = self.fixtures(kind, chance);
            self.tags.push(TagInventory {
                id: None,
                label,
                room: Some(name.to_owned()),
                prior_done: std::collections::BTreeMap::new(),
                fixtures,
            });
        }
    }

    /// What stood there: usually one fixture, now and then an older one that was replaced since the building joined.
    fn fixtures(&self, kind: FixtureKind, chance: &mut Chance) -> Vec<FixtureLine> {
        let joined = self.days.joined;
        let before = self.days.before(usual_life_years(kind), chance);
        if !chance.per_mille(18) {
            let installed = installed_before(before, chance);
            return vec![self.fixture(kind, installed, standing_from(joined), None, chance)];
        }
        let replaced = self.days.since(chance);
        let old = Stood {
            status: Service::Replaced,
            from: joined,
            until: Some(replaced),
        };
        let new = Stood {
            status: Service::InService,
            from: replaced,
            until: None,
        };
        vec![
            self.fixture(kind, installed_before(before, chance), old, None, chance),
            self.fixture(kind, Installed::On(replaced), new, Some(0), chance),
        ]
    }

    fn fixture(
        &self,
        kind: FixtureKind,
        installed: Installed,
        stood: Stood,
        replaces: Option<usize>,
        chance: &mut Chance,
    ) -> FixtureLine {
        let model = format!(
            "{}{}",
            chance.pick(&["A", "C", "K", "M", "T"]).unwrap_or("A"),
            chance.between(110, 980)
        );
        let facts = FixtureFacts {
            kind,
            maker: chance.word(&self.words.makers).to_owned(),
            model,
            installed,
            note: String::new(),
        };
        let parts = kind
            .standard_parts()
            .iter()
            .map(|&part| self.part(part, installed, stood, chance))
            .collect();
        FixtureLine {
            id: None,
            stood,
            replaces,
            facts,
            parts,
        }
    }

    /// Most parts are as old as their fixture; some were renewed by themselves.
    fn part(&self, kind: PartKind, fixture: Installed, stood: Stood, chance: &mut Chance) -> PartLine {
        let renewed = stood.status == Service::InService && chance.per_mille(60);
        let installed = if renewed {
            Installed::On(self.days.since(chance))
        } else {
            fixture
        };
        let from = installed.date().map_or(stood.from, |date| date.max(stood.from));
        PartLine {
            id: None,
            stood: Stood { from, ..stood },
            facts: PartFacts { kind, installed },
        }
    }

    /// The unit, finished.
    #[must_use]
    pub fn unit(self, facts: UnitFacts, households: Vec<HouseholdLine>) -> UnitInventory {
        UnitInventory {
            id: None,
            turnover: None,
            spread_ppm: None,
            facts,
            households,
            rooms: self.rooms,
            tags: self.tags,
        }
    }
}

fn standing_from(joined: NaiveDate) -> Stood {
    Stood {
        status: Service::InService,
        from: joined,
        until: None,
    }
}

/// An old date is an estimate more often than not, or lost.
fn installed_before(date: NaiveDate, chance: &mut Chance) -> Installed {
    match chance.between(1, 10) {
        1..=2 => Installed::Unknown,
        3..=6 => Installed::About(date),
        _ => Installed::On(date),
    }
}

/// How many years back the fixtures of an old building were put in, at most; only for inventing.
fn usual_life_years(kind: FixtureKind) -> i64 {
    match kind {
        FixtureKind::SmokeAlarm | FixtureKind::CoAlarm => 9,
        FixtureKind::WaterHeater | FixtureKind::Dishwasher | FixtureKind::Disposer => 12,
        FixtureKind::WashingMachine => 10,
        _ => 28,
    }
}

/// A rental unit at a floor and riser.
pub fn make(
    words: &Words,
    days: &Times,
    label: &str,
    (floor, riser): (i64, i64),
    chance: &mut Chance,
) -> UnitInventory {
    use FixtureKind as K;
    let mut home = Furnishing::new(days, words);
    let bathrooms = if chance.per_mille(350) { 2 } else { 1 };
    let mut hall = vec![K::SmokeAlarm, K::CoAlarm, K::UnitShutoff];
    if chance.per_mille(300) {
        hall.push(K::SmokeAlarm);
    }
    home.room("hall", &hall, chance);
    let mut kitchen = vec![K::KitchenSink, K::GfciOutlet];
    if chance.per_mille(620) {
        kitchen.push(K::Dishwasher);
    }
    if chance.per_mille(480) {
        kitchen.push(K::Disposer);
    }
    home.room("kitchen", &kitchen, chance);
    let bathing = if chance.per_mille(650) {
        K::Bathtub
    } else {
        K::Shower
    };
    home.room(
        "hall bath",
        &[K::WaterCloset, K::Lavatory, bathing, K::GfciOutlet],
        chance,
    );
    if bathrooms == 2 {
        home.room("rear bath", &[K::WaterCloset, K::Lavatory, K::Shower], chance);
    }
    let mut closet = Vec::new();
    if chance.per_mille(560) {
        closet.push(K::WaterHeater);
    }
    if chance.per_mille(400) {
        closet.push(K::WashingMachine);
    }
    if !closet.is_empty() {
        home.room("utility closet", &closet, chance);
    }
    let lived_in = !chance.per_mille(35);
    let occupancy = if lived_in {
        Occupancy::Occupied
    } else {
        Occupancy::Vacant
    };
    let facts = UnitFacts {
        label: label.to_owned(),
        kind: UnitKind::Unit,
        floor,
        riser: Some(riser),
        occupancy,
    };
    let households = if lived_in {
        vec![household(words, days, chance)]
    } else {
        Vec::new()
    };
    home.unit(facts, households)
}

fn household(words: &Words, days: &Times, chance: &mut Chance) -> HouseholdLine {
    let name = chance.word(&words.last_names).to_owned();
    let back = chance.between(40, 2_500).unsigned_abs();
    HouseholdLine {
        id: None,
        moved_out_on: None,
        facts: HouseholdFacts {
            contact: format!("{}@mail.example", name.to_lowercase()),
            name: format!("{name} household"),
            language: chance.word(&words.languages).to_owned(),
            agreed_hours: chance.word(&words.agreed_hours).to_owned(),
            no_entry_days: chance.word(&words.no_entry_days).to_owned(),
            moved_in_on: days
                .as_of
                .checked_sub_days(Days::new(back))
                .unwrap_or(days.joined),
        },
    }
}
