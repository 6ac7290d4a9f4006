//! A Weibull lifetime: how likely a thing of an age fails soon, and how long it still lives on average. What remains is never below
//! nothing, however old a survivor is. Knows no fixture.
//!
//! ```
//! use anglestop::domain::trade::life::Weibull;
//! let heater = Weibull::new(12.0, 3.0)?;
//! assert!((heater.fails_within(10.0, 2.0) - 0.3438).abs() < 5e-5);
//! assert!((heater.mean_residual(10.0) - 3.482).abs() < 5e-4);
//! assert!(Weibull::new(0.0, 3.0).is_err());
//! # Ok::<(), String>(())
//! ```

use super::gamma::{gamma, lower_regularised, scaled_upper};

/// The shapes that can be reckoned with.
pub const LEAST_SHAPE: f64 = 0.1;
/// The shapes that can be reckoned with.
pub const MOST_SHAPE: f64 = 50.0;

/// A lifetime with a characteristic life and a shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weibull {
    eta: f64,
    beta: f64,
}

impl Weibull {
    /// A lifetime: by `eta`, in the unit of all ages given to it, 63.2 % have failed; `beta` below 1 fails early, above 1 wears out.
    ///
    /// # Errors
    /// A sentence with the range of what is out of it.
    pub fn new(eta: f64, beta: f64) -> Result<Self, String> {
        if !(eta.is_finite() && eta > 0.0 && eta <= 1e12) {
            return Err(format!(
                "The characteristic life {eta:?} can't be reckoned with. Give a number above 0, such as 12 (years)."
            ));
        }
        if !(LEAST_SHAPE..=MOST_SHAPE).contains(&beta) {
            return Err(format!(
                "The shape {beta:?} can't be reckoned with. Give a number from {LEAST_SHAPE} to {MOST_SHAPE}; wear-out lies between 2 and 7."
            ));
        }
        Ok(Self { eta, beta })
    }

    /// The lifetime of this shape whose mean is `mean`.
    ///
    /// # Errors
    /// As [`Weibull::new`].
    pub fn with_mean(mean: f64, beta: f64) -> Result<Self, String> {
        let unit = Self::new(1.0, beta)?;
        Self::new(mean / unit.mean(), beta)
    }

    /// The characteristic life.
    #[must_use]
    pub const fn eta(&self) -> f64 {
        self.eta
    }

    /// The shape.
    #[must_use]
    pub const fn beta(&self) -> f64 {
        self.beta
    }

    /// The mean life of a new one.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.eta * gamma(1.0 + 1.0 / self.beta)
    }

    /// The sum of the hazard up to an age.
    #[must_use]
    pub fn cumulative_hazard(&self, age: f64) -> f64 {
        (age.max(0.0) / self.eta).powf(self.beta)
    }

    /// The hazard at an age, per unit of time.
    #[must_use]
    pub fn hazard(&self, age: f64) -> f64 {
        self.beta / self.eta * (age.max(0.0) / self.eta).powf(self.beta - 1.0)
    }

    /// The share that lives to an age.
    #[must_use]
    pub fn survival(&self, age: f64) -> f64 {
        (-self.cumulative_hazard(age)).exp()
    }

    /// How likely one that has reached `age` fails within `within` more.
    #[must_use]
    pub fn fails_within(&self, age: f64, within: f64) -> f64 {
        let before = self.cumulative_hazard(age);
        let (age, within) = (age.max(0.0), within.max(0.0));
        if !before.is_finite() {
            return f64::from(u8::from(within > 0.0));
        }
        // Of two hazards that differ only in their last digits nothing would be left, so what is added is reckoned by itself.
        let added = if before > 0.0 {
            before * (self.beta * (within / age).ln_1p()).exp_m1()
        } else {
            self.cumulative_hazard(age + within)
        };
        -(-added).exp_m1()
    }

    /// How long one that has reached `age` still lives on average: above 0 at any age.
    #[must_use]
    pub fn mean_residual(&self, age: f64) -> f64 {
        let z = self.cumulative_hazard(age);
        if z.is_finite() {
            self.eta / self.beta * scaled_upper(1.0 / self.beta, z)
        } else {
            0.0
        }
    }

    /// How much longer one that has reached `age` lives with probability `1 - share`: the time within which `share` of its like fail.
    #[must_use]
    pub fn residual_quantile(&self, age: f64, share: f64) -> f64 {
        let age = age.max(0.0);
        let z = self.cumulative_hazard(age) - (-share).ln_1p();
        (self.eta * z.powf(1.0 / self.beta) - age).max(0.0)
    }

    /// The mean time in service when each is taken out at `age` at the latest.
    #[must_use]
    pub fn mean_until(&self, age: f64) -> f64 {
        self.mean() * lower_regularised(1.0 / self.beta, self.cumulative_hazard(age))
    }
}
