//! Whether readings drift, and when a steady drift would leave a band. Decides with the two-sided Mann-Kendall test and the median of
//! pairwise slopes; says nothing of fewer readings than it is told, and nothing where chance alone explains them.
//!
//! # Source
//! Mann, "Nonparametric tests against trend" (1945); Kendall, "Rank correlation methods" (1975); Sen, "Estimates of the regression
//! coefficient based on Kendall's tau" (1968).

use chrono::{Days, NaiveDate};

/// The longest series whose chance is counted exactly when no two readings are equal; longer ones take the normal approximation.
const EXACT_MOST: usize = 33;
/// How far ahead a drift is followed, days: ten years.
const FARTHEST_DAYS: f64 = 3_652.0;

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Local date.
    pub day: NaiveDate,
    /// The value, in the unit of the band.
    pub value: f64,
}

/// Between which values readings are usual.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// The lower edge.
    pub least: f64,
    /// The upper edge.
    pub most: f64,
}

/// The test of a series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    /// Pairs that rise less pairs that fall.
    pub s: f64,
    /// The chance of so much of either among steady readings, two-sided, 0 to 1.
    pub p: f64,
}

/// A drift that is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// How sure.
    pub trend: Trend,
    /// The steady change, a day.
    pub slope_a_day: f64,
    /// The first reading's day, from which the line is drawn.
    pub from: NaiveDate,
    /// The line's value on that day.
    pub start: f64,
    /// The day on which the line leaves the band, after the last reading; none when it is outside already, or not within ten years.
    pub leaves_on: Option<NaiveDate>,
}

impl Drift {
    /// The line's value on a day.
    #[must_use]
    pub fn at(&self, day: NaiveDate) -> f64 {
        self.start + self.slope_a_day * days(self.from, day)
    }
}

fn days(from: NaiveDate, to: NaiveDate) -> f64 {
    i32::try_from((to - from).num_days()).map_or(f64::MAX, f64::from)
}

fn float(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::MAX, f64::from)
}

/// Tests values in the order in which they were read.
///
/// ```
/// use anglestop::domain::trade::drift::trend;
/// // Six readings that rise each time: 2 of 720 orders are so extreme.
/// let rising = trend(&[30.0, 31.0, 33.0, 36.0, 40.0, 41.0]);
/// assert_eq!(rising.s, 15.0);
/// assert!((rising.p - 2.0 / 720.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn trend(values: &[f64]) -> Trend {
    let mut s = 0.0;
    for (index, early) in values.iter().enumerate() {
        for late in values.iter().skip(index + 1) {
            s += match late.total_cmp(early) {
                std::cmp::Ordering::Greater => 1.0,
                std::cmp::Ordering::Equal => 0.0,
                std::cmp::Ordering::Less => -1.0,
            };
        }
    }
    let ties = ties(values);
    let p = if ties.is_empty() && values.len() <= EXACT_MOST {
        exact(values.len(), s)
    } else {
        approximate(values.len(), s, &ties)
    };
    Trend { s, p }
}

/// The sizes of groups of equal values.
fn ties(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
        .chunk_by(|one, other| one.total_cmp(other).is_eq())
        .filter(|group| group.len() > 1)
        .map(|group| float(group.len()))
        .collect()
}

/// Counts the orders of `n` different values that are at least as extreme, by their number of inversions.
fn exact(n: usize, s: f64) -> f64 {
    let mut share = vec![1.0_f64];
    for size in 2..=n {
        let mut next = vec![0.0; share.len() + size - 1];
        for (inversions, part) in share.iter().enumerate() {
            for slot in next.iter_mut().skip(inversions).take(size) {
                *slot += part / float(size);
            }
        }
        share = next;
    }
    let most = float(share.len()) - 1.0;
    let extreme = share
        .iter()
        .enumerate()
        .filter(|(inversions, _)| (most - 2.0 * float(*inversions)).abs() >= s.abs())
        .map(|(_, part)| part)
        .sum::<f64>();
    extreme.min(1.0)
}

/// The normal approximation, corrected for ties and continuity.
fn approximate(n: usize, s: f64, ties: &[f64]) -> f64 {
    let n = float(n);
    let spread = |size: f64| size * (size - 1.0) * (2.0 * size + 5.0);
    let variance = (spread(n) - ties.iter().map(|size| spread(*size)).sum::<f64>()) / 18.0;
    if variance <= 0.0 || s == 0.0 {
        return 1.0;
    }
    let z = (s.abs() - 1.0) / variance.sqrt();
    tail(z / std::f64::consts::SQRT_2).min(1.0)
}

/// The complementary error function of a value that is not below zero: a series near zero, a continued fraction beyond.
fn tail(x: f64) -> f64 {
    let root_pi = std::f64::consts::PI.sqrt();
    if x < 2.0 {
        let (mut term, mut sum) = (x, x);
        for step in 1..60_u32 {
            let k = f64::from(step);
            term *= -x * x / k;
            sum += term / (2.0 * k + 1.0);
        }
        return 1.0 - 2.0 / root_pi * sum;
    }
    let mut fraction = x;
    for step in (1..=60_u32).rev() {
        fraction = x + f64::from(step) / 2.0 / fraction;
    }
    (-x * x).exp() / root_pi / fraction
}

fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    let upper = *values.get(middle)?;
    if values.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *values.get(middle.checked_sub(1)?)?;
    Some(f64::midpoint(lower, upper))
}

/// The drift of readings in the order in which they were taken; none when there are fewer than `least`, or chance explains them.
///
/// `chance` is the level of the test, 0 to 1.
#[must_use]
pub fn drift(readings: &[Reading], band: Band, least: usize, chance: f64) -> Option<Drift> {
    if readings.len() < least {
        return None;
    }
    let values: Vec<f64> = readings.iter().map(|reading| reading.value).collect();
    let trend = trend(&values);
    if trend.p >= chance {
        return None;
    }
    let from = readings.first()?.day;
    let last = readings.last()?.day;
    let mut slopes = Vec::new();
    for (index, early) in readings.iter().enumerate() {
        for late in readings.iter().skip(index + 1) {
            let apart = days(early.day, late.day);
            if apart > 0.0 {
                slopes.push((late.value - early.value) / apart);
            }
        }
    }
    let slope_a_day = median(&mut slopes)?;
    let mut starts: Vec<f64> = readings
        .iter()
        .map(|reading| reading.value - slope_a_day * days(from, reading.day))
        .collect();
    let mut drift = Drift {
        trend,
        slope_a_day,
        from,
        start: median(&mut starts)?,
        leaves_on: None,
    };
    drift.leaves_on = leaves_on(&drift, band, last);
    Some(drift)
}

fn leaves_on(drift: &Drift, band: Band, last: NaiveDate) -> Option<NaiveDate> {
    let now = drift.at(last);
    let edge = if drift.slope_a_day > 0.0 {
        band.most
    } else {
        band.least
    };
    if drift.slope_a_day == 0.0 || now > band.most || now < band.least {
        return None;
    }
    let ahead = ((edge - now) / drift.slope_a_day).max(0.0).ceil();
    if ahead > FARTHEST_DAYS {
        return None;
    }
    // A whole number below four thousand: counted up, since a cast could hide a mistake.
    let whole = (0..=3_652_u32).find(|day| f64::from(*day) >= ahead)?;
    last.checked_add_days(Days::new(u64::from(whole)))
}
