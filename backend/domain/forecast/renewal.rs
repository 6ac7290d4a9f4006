//! How often one place needs a new one over the years ahead: the one that stands there first, then its successors. Decides the chances;
//! knows no money.

use crate::domain::trade::life::Weibull;

/// Steps of a year in which successors are followed.
const STEPS: usize = 4;
/// What is less likely than this is left out.
const NEGLIGIBLE: f64 = 1e-9;

/// What is to be expected at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Renewals {
    /// Expected replacements in each year.
    pub by_year: Vec<f64>,
    /// How likely none, one, two and more are needed in all the years together.
    pub in_all: Vec<f64>,
}

/// Looks `years` ahead from an age that counts, in years. The one that stands there is reckoned exactly from its age; successors in
/// quarters of a year.
#[must_use]
pub fn renewals(life: &Weibull, age_years: f64, years: usize) -> Renewals {
    let count = years * STEPS;
    let mut current = Vec::with_capacity(count);
    let mut fresh = Vec::with_capacity(count);
    let (mut until, mut lived, mut failed) = (0.0, 1.0, 0.0);
    for _ in 0..count {
        until += 0.25;
        let failed_by = life.fails_within(age_years, until);
        current.push((failed_by - failed).max(0.0));
        failed = failed_by;
        let lives = life.survival(until);
        fresh.push((lived - lives).max(0.0));
        lived = lives;
    }
    let mut by_year = vec![0.0; years];
    let mut at_least = vec![1.0];
    loop {
        let likely: f64 = current.iter().sum();
        if likely < NEGLIGIBLE || at_least.len() > count {
            break;
        }
        at_least.push(likely.min(1.0));
        for (year, chances) in by_year.iter_mut().zip(current.chunks(STEPS)) {
            *year += chances.iter().sum::<f64>();
        }
        current = following(&current, &fresh);
    }
    let after = at_least.iter().skip(1).chain([&0.0]);
    let in_all = at_least
        .iter()
        .zip(after)
        .map(|(this, next)| (this - next).max(0.0));
    Renewals {
        by_year,
        in_all: in_all.collect(),
    }
}

/// When the next one fails, where each starts in the middle of the step in which the one before it failed.
fn following(current: &[f64], fresh: &[f64]) -> Vec<f64> {
    let mut next = vec![0.0; current.len()];
    for (start, chance) in current.iter().enumerate() {
        if *chance < NEGLIGIBLE {
            continue;
        }
        for first in [start, start + 1] {
            for (place, life) in next.iter_mut().skip(first).zip(fresh) {
                *place += 0.5 * chance * life;
            }
        }
    }
    next
}
