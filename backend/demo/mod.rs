//! An invented fleet: buildings, units, fixtures and two years of what was seen in them. The same scenario gives the same fleet.
//!
//! Pure: values come out, nothing is stored. Each building is made from its own number alone, so that a fleet of any size is made
//! one building at a time.

pub mod chance;
pub mod common;
pub mod flat;
pub mod history;
pub mod house;
pub mod leaks;
pub mod people;
pub mod readings;
pub mod words;

use chrono::NaiveDate;

use self::chance::Chance;

/// Which fleet to invent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scenario {
    /// Rental units, 10 to 100,000; common areas come on top.
    pub units: usize,
    /// The same seed gives the same fleet.
    pub seed: u64,
    /// The day on which the fleet is looked at; nothing happens after it.
    pub as_of: NaiveDate,
}

/// Fewest rental units.
pub const LEAST_UNITS: usize = 10;
/// Most rental units.
pub const MOST_UNITS: usize = 100_000;

impl Scenario {
    /// Checks the number of units.
    ///
    /// # Errors
    /// A sentence with the range.
    pub fn new(units: usize, seed: u64, as_of: NaiveDate) -> Result<Self, String> {
        if !(LEAST_UNITS..=MOST_UNITS).contains(&units) {
            return Err(format!(
                "A demo of {units} units can't be made. Give {LEAST_UNITS} to {MOST_UNITS}."
            ));
        }
        Ok(Self { units, seed, as_of })
    }

    /// The number of rental units of each building; they add up to [`Self::units`].
    #[must_use]
    pub fn sizes(&self) -> Vec<usize> {
        const USUAL: [usize; 12] = [38, 24, 12, 60, 6, 18, 40, 96, 8, 30, 1, 48];
        let mut chance = Chance::new(self.seed, 0);
        let mut left = self.units;
        let mut sizes = Vec::new();
        while left > 0 {
            let usual = if sizes.is_empty() {
                USUAL[0]
            } else {
                chance.pick(&USUAL).unwrap_or(1)
            };
            // A small fleet has two buildings too, so that there is a neighbour.
            let most = if sizes.is_empty() {
                (self.units / 2).max(1)
            } else {
                left
            };
            let size = usual.min(most).min(left);
            sizes.push(size);
            left -= size;
        }
        sizes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scenario(units: usize) -> Scenario {
        Scenario {
            units,
            seed: 7,
            as_of: NaiveDate::from_ymd_opt(2026, 11, 25).unwrap_or_default(),
        }
    }

    #[test]
    fn buildings_hold_exactly_the_units_asked_for() {
        for units in [10, 11, 240, 5_000] {
            let sizes = scenario(units).sizes();
            assert_eq!(sizes.iter().sum::<usize>(), units);
            assert!(sizes.len() > 1);
        }
    }

    #[test]
    fn a_demo_out_of_range_is_refused_with_the_range() {
        let refusal = Scenario::new(9, 1, NaiveDate::default());
        assert!(refusal.is_err_and(|sentence| sentence.contains("10 to 100000")));
    }
}
