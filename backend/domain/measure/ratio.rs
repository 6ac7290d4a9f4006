//! Exact fractions, so that no comparison rounds. Decides arithmetic and order; refuses what doesn't fit instead of wrapping.

use std::cmp::Ordering;

/// A fraction in lowest terms with a denominator above zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Ratio {
    numerator: i128,
    denominator: i128,
}

const fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

impl Ratio {
    /// Nothing.
    pub const ZERO: Self = Self {
        numerator: 0,
        denominator: 1,
    };

    /// A constant of ours, written in lowest terms with a denominator above zero.
    #[must_use]
    pub(super) const fn of(numerator: i128, denominator: i128) -> Self {
        Self {
            numerator,
            denominator,
        }
    }

    /// The fraction in lowest terms; none when the denominator is zero or the figures don't fit.
    #[must_use]
    pub fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        let divisor = i128::try_from(gcd(numerator.unsigned_abs(), denominator.unsigned_abs())).ok()?;
        let sign = denominator.signum();
        Some(Self {
            numerator: numerator.checked_div(divisor)?.checked_mul(sign)?,
            denominator: denominator.checked_div(divisor)?.checked_mul(sign)?,
        })
    }

    /// A whole number.
    #[must_use]
    pub fn whole(value: i64) -> Self {
        Self {
            numerator: i128::from(value),
            denominator: 1,
        }
    }

    /// The figure above the line.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        self.numerator
    }

    /// The figure below the line, above zero.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        self.denominator
    }

    /// The sum; none when it doesn't fit.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Self::new(
            left.checked_add(right)?,
            self.denominator.checked_mul(other.denominator)?,
        )
    }

    /// The difference; none when it doesn't fit.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(Self {
            numerator: other.numerator.checked_neg()?,
            denominator: other.denominator,
        })
    }

    /// The product; none when it doesn't fit.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        Self::new(
            self.numerator.checked_mul(other.numerator)?,
            self.denominator.checked_mul(other.denominator)?,
        )
    }

    /// The quotient; none when the other is zero or it doesn't fit.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        Self::new(
            self.numerator.checked_mul(other.denominator)?,
            self.denominator.checked_mul(other.numerator)?,
        )
    }

    /// Which is larger; none when the figures don't fit.
    #[must_use]
    pub fn order(self, other: Self) -> Option<Ordering> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Some(left.cmp(&right))
    }

    /// The whole number it is, if it is one.
    #[must_use]
    pub fn to_whole(self) -> Option<i64> {
        if self.denominator == 1 {
            i64::try_from(self.numerator).ok()
        } else {
            None
        }
    }

    /// The nearest floating-point number, for drawings and charts; never for a verdict.
    #[must_use]
    #[expect(
        clippy::as_conversions,
        clippy::cast_precision_loss,
        reason = "a drawing needs no more than 15 digits"
    )]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}
