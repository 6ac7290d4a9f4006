//! The best age for a planned replacement, where a failure costs more than planning. Decides the age; refuses where planning never pays.

use super::Weibull;
use super::gamma::bisect;

/// The age at which a planned replacement costs least in the long run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BestAge {
    /// Replace at this age, or at failure when that comes first.
    pub age: f64,
    /// Cost per unit of time then.
    pub cost_rate: f64,
    /// Cost per unit of time when each is left to fail.
    pub run_to_failure_rate: f64,
}

/// The best age when a failure costs `failure` and a planned replacement `planned`; none when it does not wear out (a shape of 1 or
/// less), when planning costs as much as failing, or when the best age is so high that hardly one in ten thousand reaches it.
///
/// # Source
/// Age replacement, Barlow and Hunter 1960: the age where hazard times mean time in service, less the share failed, equals
/// planned / (failure - planned).
#[must_use]
pub fn best_age(life: &Weibull, failure: f64, planned: f64) -> Option<BestAge> {
    if life.beta() <= 1.0 || planned <= 0.0 || failure <= planned {
        return None;
    }
    let wanted = planned / (failure - planned);
    let too_early = |age: f64| life.hazard(age) * life.mean_until(age) - (1.0 - life.survival(age)) < wanted;
    let last = life.residual_quantile(0.0, 0.9999);
    if too_early(last) {
        return None;
    }
    let age = bisect(0.0, last, too_early);
    let reaches = life.survival(age);
    Some(BestAge {
        age,
        cost_rate: (failure * (1.0 - reaches) + planned * reaches) / life.mean_until(age),
        run_to_failure_rate: failure / life.mean(),
    })
}
