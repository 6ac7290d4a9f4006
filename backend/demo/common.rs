//! The common area of an invented building: mains, drains, pumps, what stands outside.

use super::chance::Chance;
use super::flat::Furnishing;
use super::house::Times;
use super::words::Words;
use crate::domain::register::inventory::UnitInventory;
use crate::domain::register::{Occupancy, UnitFacts, UnitKind};
use crate::domain::trade::FixtureKind as K;

/// The common area of a building with `size` rental units.
pub fn make(words: &Words, days: &Times, size: usize, chance: &mut Chance) -> UnitInventory {
    let mut place = Furnishing::new(days, words);
    place.room(
        "basement",
        &[K::MainShutoff, K::PressurePoint, K::MainDrain, K::FloorDrain],
        chance,
    );
    if chance.per_mille(450) {
        place.room("pump pit", &[K::SumpPump], chance);
    }
    if chance.per_mille(400) {
        place.room("crawl space", &[K::CrawlSpace], chance);
    }
    if size >= 12 {
        place.room(
            "laundry room",
            &[
                K::WashingMachine,
                K::WashingMachine,
                K::LaundrySink,
                K::FloorDrain,
                K::SeldomUsedTrap,
            ],
            chance,
        );
    }
    if size >= 24 {
        place.room("boiler room", &[K::WaterHeater, K::BackflowDevice], chance);
        place.room("lobby", &[K::WaterCloset, K::Lavatory, K::SmokeAlarm], chance);
    }
    place.room("outside", &[K::HoseBibb, K::HoseBibb], chance);
    let facts = UnitFacts {
        label: "common".to_owned(),
        kind: UnitKind::CommonArea,
        floor: 1,
        riser: None,
        occupancy: Occupancy::Occupied,
    };
    place.unit(facts, Vec::new())
}
