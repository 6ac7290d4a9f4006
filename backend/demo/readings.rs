//! What an invented technician reads: a figure that passes or fails under a check's limits, and that somebody might really measure.

use super::chance::Chance;
use crate::domain::code::Coded as _;
use crate::domain::measure::{Quantity, Unit};
use crate::domain::result::answer::Outcome;
use crate::domain::trade::Check;
use crate::domain::trade::check::{Answer, Bound};

/// A reading that passes or fails under the limits of the check; empty for a verdict.
#[must_use]
pub fn reading(check: &Check, outcome: Outcome, chance: &mut Chance) -> String {
    let Answer::Reading { unit, limits, .. } = &check.answer else {
        return String::new();
    };
    let figure = |text: &str| {
        text.split_whitespace()
            .next()
            .and_then(|number| number.parse::<f64>().ok())
    };
    let bounds: Vec<(bool, f64)> = limits
        .iter()
        .filter_map(|limit| Some((limit.bound == Bound::AtMost, figure(&limit.value)?)))
        .collect();
    let most = bounds
        .iter()
        .filter(|(at_most, _)| *at_most)
        .map(|(_, value)| *value)
        .reduce(f64::min);
    let least = bounds
        .iter()
        .filter(|(at_most, _)| !*at_most)
        .map(|(_, value)| *value)
        .reduce(f64::max);
    let share = chance.between(25, 85) as f64 / 100.0;
    let value = match (outcome, least, most) {
        (Outcome::Fail, _, Some(most)) => most * (1.1 + share / 2.0),
        (Outcome::Fail, Some(least), None) => least * share,
        (_, Some(least), Some(most)) => least + (most - least) * share,
        // Hot water is hot: of temperatures the upper part of the way.
        (_, None, Some(most)) if unit.quantity() == Quantity::Temperature => most * (0.84 + share * 0.15),
        // A refill that passes is well below the time at which it is restricted.
        (_, None, Some(most)) if *unit == Unit::Second => most * (0.2 + share / 5.0),
        (_, None, Some(most)) => most * share,
        (_, Some(least), None) => least * (1.0 + share),
        (_, None, None) => 10.0 + 10.0 * share,
    };
    format!("{} {}", (value * 10.0).round() / 10.0, unit.code())
}
