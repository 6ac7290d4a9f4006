//! An invented building: where it stands, when it joined, how its units lie over floors and risers.

use chrono::{Datelike, Days, NaiveDate};
use chrono_tz::Tz;

use super::chance::Chance;
use super::words::Words;
use super::{Scenario, common, flat};
use crate::domain::measure::LengthUnit;
use crate::domain::register::inventory::Inventory;
use crate::domain::register::{BuildingFacts, UnitKind};
use crate::domain::trade::{BaseJoint, ProfileCode};

/// The days of a building that its fixtures are made by.
#[derive(Debug, Clone, Copy)]
pub struct Times {
    /// The year it was built in.
    pub built: i32,
    /// The day it joined the register.
    pub joined: NaiveDate,
    /// The day the fleet is looked at.
    pub as_of: NaiveDate,
}

/// The building of this number (0 is first) with `size` rental units, in this portfolio, looked after by this technician's address.
///
/// # Errors
/// A sentence when the words name a zone or a profile that does not exist.
pub fn make(
    scenario: &Scenario,
    words: &Words,
    number: usize,
    size: usize,
    portfolio: &str,
    technician: &str,
) -> Result<Inventory, String> {
    let mut chance = Chance::new(scenario.seed, 1_000 + number as u64);
    let days = days(scenario, &mut chance);
    let facts = facts(words, number, &days, &mut chance)?;
    let mut units = vec![common::make(words, &days, size, &mut chance)];
    let floors = floors(size);
    let a_floor = size.div_ceil(floors);
    for index in 0..size {
        let (floor, riser) = (index / a_floor + 1, index % a_floor + 1);
        let label = if size == 1 {
            "1".to_owned()
        } else {
            format!("{floor}{riser:02}")
        };
        units.push(flat::make(
            words,
            &days,
            &label,
            (floor as i64, riser as i64),
            &mut chance,
        ));
    }
    debug_assert_eq!(
        units
            .iter()
            .filter(|unit| unit.facts.kind == UnitKind::Unit)
            .count(),
        size
    );
    let mut inventory = Inventory {
        id: None,
        portfolio: portfolio.to_owned(),
        technician: Some(technician.to_owned()),
        facts,
        units,
    };
    inventory.sort();
    Ok(inventory)
}

fn floors(size: usize) -> usize {
    match size {
        0..=3 => 1,
        4..=12 => 2,
        13..=24 => 3,
        25..=40 => 5,
        41..=60 => 6,
        _ => 8,
    }
}

fn days(scenario: &Scenario, chance: &mut Chance) -> Times {
    let back = chance.between(735, 1_100).unsigned_abs();
    let joined = scenario
        .as_of
        .checked_sub_days(Days::new(back))
        .unwrap_or(scenario.as_of);
    Times {
        built: i32::try_from(chance.between(1928, 2016)).unwrap_or(1980),
        joined,
        as_of: scenario.as_of,
    }
}

/// The most letters of an invented building's code.
const CODE_LETTERS: usize = 16;

/// Name and code of the building with this number. When the words are used up they come again with a number behind them, before which
/// the code is cut, so that no two are the same.
fn name_and_code(words: &Words, number: usize) -> (String, String) {
    let (firsts, seconds) = (words.houses_first.len().max(1), words.houses_second.len().max(1));
    let first = words
        .houses_first
        .get(number % firsts)
        .map_or("Alder", String::as_str);
    let second = words
        .houses_second
        .get((number / firsts + number) % seconds)
        .map_or("House", String::as_str);
    let stem = format!("{first}-{second}").to_uppercase();
    let cut = |letters: usize| stem.chars().take(letters).collect::<String>();
    match number / (firsts * seconds) {
        0 => (format!("{first} {second}"), cut(CODE_LETTERS)),
        round => {
            let round = (round + 1).to_string();
            let kept = cut(CODE_LETTERS - round.len());
            (format!("{first} {second} {round}"), format!("{kept}{round}"))
        }
    }
}

fn facts(words: &Words, number: usize, days: &Times, chance: &mut Chance) -> Result<BuildingFacts, String> {
    let (name, code) = name_and_code(words, number);
    let zone = words
        .zones
        .get(number % words.zones.len().max(1))
        .map_or("UTC", String::as_str);
    let profile = if number % 3 == 2 { "upc" } else { "ipc" };
    Ok(BuildingFacts {
        code,
        name,
        address: format!(
            "{} {}, {}",
            chance.between(1, 180),
            chance.word(&words.streets),
            chance.word(&words.towns)
        ),
        time_zone: zone.parse::<Tz>().map_err(|cause| cause.to_string())?,
        code_profile: profile
            .parse::<ProfileCode>()
            .map_err(|cause| cause.to_string())?,
        length_unit: if number % 7 == 5 {
            LengthUnit::Millimetre
        } else {
            LengthUnit::Inch
        },
        notice_hours: if number.is_multiple_of(2) { 24 } else { 48 },
        joined_on: days.joined,
        built_year: chance.per_mille(900).then_some(i64::from(days.built)),
        base_joint: chance
            .pick(&[BaseJoint::Sealed, BaseJoint::RearOpen, BaseJoint::NotNoted])
            .unwrap_or(BaseJoint::NotNoted),
    })
}

impl Times {
    /// A day on which something of this usual life was installed before the building joined: between one life back and a year
    /// back, never before the building was built.
    pub fn before(&self, life_years: i64, chance: &mut Chance) -> NaiveDate {
        let back = chance.between(200, life_years * 365).unsigned_abs();
        let day = self
            .joined
            .checked_sub_days(Days::new(back))
            .unwrap_or(self.joined);
        let earliest = NaiveDate::from_ymd_opt(self.built, 6, 1).unwrap_or(day);
        day.max(earliest.min(self.joined))
    }

    /// A day between joining and the day of looking, with at least a month to either side; for what was new meanwhile.
    pub fn since(&self, chance: &mut Chance) -> NaiveDate {
        let span = (self.as_of - self.joined).num_days();
        let ahead = chance.between(30, (span - 30).max(30)).unsigned_abs();
        self.joined
            .checked_add_days(Days::new(ahead))
            .unwrap_or(self.joined)
            .min(self.as_of)
    }

    /// The year it is looked at.
    #[must_use]
    pub fn year(&self) -> i32 {
        self.as_of.year()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn the_buildings_of_the_largest_demo_have_codes_of_their_own() {
        let words = crate::demo::words::builtin().unwrap_or_else(|sentence| panic!("{sentence}"));
        let most = 100_000 / 8;
        let named: Vec<_> = (0..most).map(|number| name_and_code(&words, number)).collect();
        assert!(
            named
                .iter()
                .all(|(_, code)| code.chars().count() <= CODE_LETTERS && !code.is_empty())
        );
        let codes: BTreeSet<_> = named.iter().map(|(_, code)| code).collect();
        let names: BTreeSet<_> = named.iter().map(|(name, _)| name).collect();
        assert_eq!((codes.len(), names.len()), (most, most));
    }
}
