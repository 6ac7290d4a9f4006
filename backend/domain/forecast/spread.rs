//! How far a sum of uncertain costs may lie from what is expected: quantiles of independent places, each of which costs so much so often
//! with known chances. Few places are summed up exactly; many by the first three cumulants (Cornish and Fisher 1938).

use crate::domain::trade::life::gamma::chi_square_quantile;

/// Places that are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Alike {
    /// What one replacement costs, minor units.
    pub cost_minor: i64,
    /// How likely none, one, two ... are needed.
    pub chances: Vec<f64>,
    /// How many such places there are.
    pub places: usize,
}

/// Cells up to which a sum is exact.
const MOST_CELLS: usize = 6_000;
/// Cells times places up to which a sum is exact.
const MOST_WORK: usize = 1_000_000;

/// The amounts that the sum does not exceed with the given chances, minor units, in the same order.
#[must_use]
pub fn quantiles(groups: &[Alike], shares: &[f64]) -> Vec<i64> {
    let Some((step, chances)) = exact(groups) else {
        return shares.iter().map(|share| by_cumulants(groups, *share)).collect();
    };
    let reached = |share: f64| {
        let mut sum = 0.0;
        let cell = chances.iter().position(|chance| {
            sum += chance;
            sum >= share - 1e-12
        });
        cell.unwrap_or(chances.len().saturating_sub(1))
    };
    shares
        .iter()
        .map(|share| i64::try_from(reached(*share)).unwrap_or(0) * step)
        .collect()
}

fn common_step(groups: &[Alike]) -> i64 {
    groups.iter().fold(0, |step, group| {
        let (mut a, mut b) = (step, group.cost_minor);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a.abs()
    })
}

/// The common step of all costs, and the chances of each multiple of it; none when that would be too much to reckon.
fn exact(groups: &[Alike]) -> Option<(i64, Vec<f64>)> {
    let step = common_step(groups).max(1);
    let places: usize = groups.iter().map(|group| group.places).sum();
    let mut cells = 1_usize;
    for group in groups {
        let each = usize::try_from(group.cost_minor / step).ok()?;
        let most = group.chances.len().saturating_sub(1);
        cells = cells.checked_add(each.checked_mul(most)?.checked_mul(group.places)?)?;
    }
    if cells > MOST_CELLS || cells.saturating_mul(places) > MOST_WORK {
        return None;
    }
    let mut sum = vec![0.0; cells];
    *sum.first_mut()? = 1.0;
    let mut reach = 0_usize;
    for group in groups {
        let each = usize::try_from(group.cost_minor / step).ok()?;
        for _ in 0..group.places {
            let before = sum.clone();
            sum.fill(0.0);
            for (times, chance) in group.chances.iter().enumerate() {
                for (cell, held) in before.iter().take(reach + 1).enumerate() {
                    if let Some(into) = sum.get_mut(cell + times * each) {
                        *into += held * chance;
                    }
                }
            }
            reach += each * group.chances.len().saturating_sub(1);
        }
    }
    Some((step, sum))
}

fn by_cumulants(groups: &[Alike], share: f64) -> i64 {
    let (mut mean, mut variance, mut third) = (0.0, 0.0, 0.0);
    for group in groups {
        let cost = number(group.cost_minor);
        let places = number(i64::try_from(group.places).unwrap_or(i64::MAX));
        let (mut m1, mut m2, mut m3, mut times) = (0.0, 0.0, 0.0, 0.0_f64);
        for chance in &group.chances {
            m1 += chance * times;
            m2 += chance * times.powi(2);
            m3 += chance * times.powi(3);
            times += 1.0;
        }
        mean += places * cost * m1;
        variance += places * cost.powi(2) * (m2 - m1.powi(2));
        third += places * cost.powi(3) * (m3 - 3.0 * m1 * m2 + 2.0 * m1.powi(3));
    }
    if variance <= 0.0 {
        return whole(mean);
    }
    let skew = third / variance.powf(1.5);
    let z = normal_quantile(share);
    whole((mean + variance.sqrt() * (z + (z * z - 1.0) * skew / 6.0)).max(0.0))
}

/// The point that a standard normal variable stays below with probability `p`, 0 < p < 1: its square is a chi-square of one degree.
fn normal_quantile(p: f64) -> f64 {
    let apart = (2.0 * p - 1.0).abs();
    if apart < 1e-12 {
        return 0.0;
    }
    chi_square_quantile(apart, 1.0).sqrt().copysign(p - 0.5)
}

/// Money as a floating-point number, to be reckoned with.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "money of a fleet stays far below 2^53 minor units"
)]
pub(super) fn number(value: i64) -> f64 {
    value as f64
}

/// The nearest whole number of minor units.
#[expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    reason = "the cast of a float saturates, and money of a fleet lies far within"
)]
pub(super) fn whole(value: f64) -> i64 {
    value.round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn coin(cost_minor: i64, chance: f64, places: usize) -> Alike {
        Alike {
            cost_minor,
            chances: vec![1.0 - chance, chance],
            places,
        }
    }

    #[test]
    fn one_place_costs_nothing_or_everything() {
        let found = quantiles(&[coin(45_000, 0.3, 1)], &[0.1, 0.5, 0.9]);
        assert_eq!(found, [0, 0, 45_000]);
    }

    /// Binomial, n = 10, p = 0.5: the median is 5, the 90th percentile 7 (tables of the binomial, from memory).
    #[test]
    fn ten_fair_coins_have_the_quantiles_of_the_table() {
        assert_eq!(quantiles(&[coin(100, 0.5, 10)], &[0.5, 0.9]), [500, 700]);
    }

    #[test]
    fn both_ways_of_reckoning_agree_where_they_meet() {
        let groups = [coin(45_000, 0.1, 100), coin(1_500, 0.2, 100)];
        assert!(exact(&groups).is_some());
        for share in [0.1, 0.5, 0.9] {
            let exactly = quantiles(&groups, &[share])[0];
            let nearly = by_cumulants(&groups, share);
            // A sum of whole replacements goes in steps, which cumulants don't know.
            assert!((exactly - nearly).abs() < 45_000, "{share}: {exactly} {nearly}");
        }
    }
}
