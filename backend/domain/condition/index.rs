//! The facility condition index: what it costs to put right what is deferred, over what it costs to replace everything. Decides the
//! ratio and its band; knows no price.

use crate::domain::code::words;

words! {
    /// How an index reads.
    Band "band" {
        Good = "good", "Good";
        Fair = "fair", "Fair";
        Poor = "poor", "Poor";
        Critical = "critical", "Critical";
    }
}

/// Up to where each band reaches, parts of 1,000, the edge included.
///
/// # Source
/// The usual bands of facility managers: to 5 % good, to 10 % fair, to 30 % poor, beyond critical.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bands {
    /// Good up to here, parts of 1,000.
    pub good: i64,
    /// Fair up to here, parts of 1,000.
    pub fair: i64,
    /// Poor up to here, parts of 1,000; critical beyond.
    pub poor: i64,
}

impl Bands {
    /// Bands that rise.
    ///
    /// # Errors
    /// A sentence when they don't.
    pub fn new(good: i64, fair: i64, poor: i64) -> Result<Self, String> {
        if 0 < good && good < fair && fair < poor && poor <= 1_000 {
            Ok(Self { good, fair, poor })
        } else {
            Err(format!(
                "The bands {}, {} and {} % don't rise. Give three percentages above 0 and up to 100, each greater than the one before.",
                percent(good),
                percent(fair),
                percent(poor)
            ))
        }
    }
}

/// Parts of 1,000 as a percentage: `5`, `7.5`.
#[must_use]
pub fn percent(per_mille: i64) -> String {
    if per_mille % 10 == 0 {
        (per_mille / 10).to_string()
    } else {
        format!("{}.{}", per_mille / 10, (per_mille % 10).abs())
    }
}

/// The index of a building or a portfolio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Index {
    /// Cost of what is deferred, minor units.
    pub deferred_minor: i64,
    /// Cost of replacing everything, minor units, above 0.
    pub replacement_minor: i64,
}

impl Index {
    /// The index; none when nothing stands there whose replacement has a price.
    #[must_use]
    pub fn new(deferred_minor: i64, replacement_minor: i64) -> Option<Self> {
        (replacement_minor > 0 && deferred_minor >= 0).then_some(Self {
            deferred_minor,
            replacement_minor,
        })
    }

    /// The ratio, 0 and up.
    #[must_use]
    #[expect(
        clippy::as_conversions,
        clippy::cast_precision_loss,
        reason = "money of a fleet stays far below 2^53 minor units"
    )]
    pub fn ratio(self) -> f64 {
        self.deferred_minor as f64 / self.replacement_minor as f64
    }

    /// The band, compared in whole numbers, the edges included.
    #[must_use]
    pub fn band(self, bands: &Bands) -> Band {
        let within = |edge: i64| {
            i128::from(self.deferred_minor) * 1_000 <= i128::from(edge) * i128::from(self.replacement_minor)
        };
        if within(bands.good) {
            Band::Good
        } else if within(bands.fair) {
            Band::Fair
        } else if within(bands.poor) {
            Band::Poor
        } else {
            Band::Critical
        }
    }
}
