//! What an office's own histories say of a lifetime: the most likely Weibull lifetime of what failed and what still stands, and bounds
//! on a mean. Says when the histories say nothing.

use super::Weibull;
use super::gamma::{bisect, chi_square_quantile};
use super::weibull::{LEAST_SHAPE, MOST_SHAPE};

/// How an observation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// It failed.
    Failed,
    /// It still stands, or was taken out for another reason.
    Standing,
}

/// One that was watched from one age to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Watched {
    /// Age when it was first watched; what had failed before could not be seen.
    pub from: f64,
    /// Age when it was last watched.
    pub to: f64,
    /// How that ended.
    pub end: End,
}

/// The most likely Weibull lifetime, by bisection on its shape; none when fewer than two failed at different ages, or the histories
/// fit no shape.
///
/// # Source
/// The likelihood with right censoring as in the NIST/SEMATECH e-Handbook 8.4.1.3, the age at first watch as left truncation.
#[must_use]
pub fn fit(watched: &[Watched]) -> Option<Weibull> {
    let most = watched.iter().map(|one| one.to).fold(0.0, f64::max);
    let failed: Vec<f64> = watched
        .iter()
        .filter(|one| one.end == End::Failed && one.to > 0.0)
        .map(|one| one.to / most)
        .collect();
    let first = failed.first()?;
    if failed.iter().all(|age| age == first) {
        return None;
    }
    let count = f64::from(u32::try_from(failed.len()).ok()?);
    let mean_log = failed.iter().map(|age| age.ln()).sum::<f64>() / count;
    // Ages over the greatest, so that no power leaves the range.
    let sums = |beta: f64| {
        let mut power = 0.0;
        let mut power_log = 0.0;
        for one in watched {
            for (age, sign) in [(one.to / most, 1.0), (one.from / most, -1.0)] {
                if age > 0.0 {
                    power += sign * age.powf(beta);
                    power_log += sign * age.powf(beta) * age.ln();
                }
            }
        }
        (power, power_log)
    };
    let rises = |beta: f64| {
        let (power, power_log) = sums(beta);
        1.0 / beta + mean_log > power_log / power
    };
    if !rises(LEAST_SHAPE) || rises(MOST_SHAPE) {
        return None;
    }
    let beta = bisect(LEAST_SHAPE, MOST_SHAPE, rises);
    let eta = most * (sums(beta).0 / count).powf(1.0 / beta);
    Weibull::new(eta, beta).ok()
}

/// Bounds on a mean life, two-sided; without a failure there is only a lower one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Lower.
    pub lower: f64,
    /// Upper; none without a failure.
    pub upper: Option<f64>,
}

/// Bounds on the mean life when failures come at a constant rate: `failures` in `time` of service together, with `confidence` between
/// 0 and 1. Without a failure the lower bound is one-sided.
///
/// # Source
/// NIST/SEMATECH e-Handbook 8.4.5.1.
#[must_use]
pub fn mean_bounds(time: f64, failures: u32, confidence: f64) -> Bounds {
    let miss = 1.0 - confidence;
    if failures == 0 {
        return Bounds {
            lower: time / -miss.ln(),
            upper: None,
        };
    }
    let degrees = 2.0 * f64::from(failures);
    Bounds {
        lower: 2.0 * time / chi_square_quantile(1.0 - miss / 2.0, degrees + 2.0),
        upper: Some(2.0 * time / chi_square_quantile(miss / 2.0, degrees)),
    }
}
