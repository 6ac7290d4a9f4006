//! Lengths as whole nanometres, so that 482.6 mm is exactly 19 in. Decides how they are read and shown.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::{Amount, MeasureError, Unit};
use crate::domain::code::words;

/// A length in whole nanometres; 1 in is 25,400,000, 1/16 in is 1,587,500.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Length(i64);

words! {
    /// The unit a building measures lengths in.
    LengthUnit "unit of length" {
        Inch = "in", "inches";
        Millimetre = "mm", "millimetres";
    }
}

impl LengthUnit {
    /// The unit of measure.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Self::Inch => Unit::Inch,
            Self::Millimetre => Unit::Millimetre,
        }
    }
}

const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_SIXTEENTH: i64 = 1_587_500;
const NM_PER_MM: i64 = 1_000_000;

impl Length {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// So many nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// The length in nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// So many sixteenths of an inch.
    #[must_use]
    pub fn from_sixteenths(sixteenths: i32) -> Self {
        Self(i64::from(sixteenths) * NM_PER_SIXTEENTH)
    }

    /// Reads a length as people type it; a bare number is in `unit`.
    ///
    /// # Errors
    /// A sentence when it can't be read or is no whole number of nanometres.
    pub fn parse(given: &str, unit: LengthUnit) -> Result<Self, MeasureError> {
        Self::try_from(Amount::parse(given, unit.unit())?).map_err(|error| match error {
            MeasureError::NotWhole(_) => MeasureError::NotWhole(given.trim().to_owned()),
            other => other,
        })
    }

    /// The difference, which may be below zero.
    #[must_use]
    pub const fn minus(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// The sum.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// Shown in inches and sixteenths, exactly or as "just over" the sixteenth below.
    #[must_use]
    pub const fn in_inches(self) -> Inches {
        Inches(self)
    }

    /// Shown in millimetres with as many decimals as it has.
    #[must_use]
    pub fn in_millimetres(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let nm = self.0.unsigned_abs();
        let per_mm = NM_PER_MM.unsigned_abs();
        let (whole, rest) = (nm / per_mm, nm % per_mm);
        if rest == 0 {
            return format!("{sign}{whole} mm");
        }
        let decimals = format!("{rest:06}");
        format!("{sign}{whole}.{} mm", decimals.trim_end_matches('0'))
    }

    /// Shown in the building's unit.
    #[must_use]
    pub fn show(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Inch => self.in_inches().to_string(),
            LengthUnit::Millimetre => self.in_millimetres(),
        }
    }
}

impl TryFrom<Amount> for Length {
    type Error = MeasureError;

    fn try_from(amount: Amount) -> Result<Self, Self::Error> {
        if amount.quantity() != super::Quantity::Length {
            return Err(MeasureError::WrongQuantity {
                given: amount.quantity().name().to_owned(),
                found: amount.quantity(),
                wanted: super::Quantity::Length,
            });
        }
        amount
            .base()
            .to_whole()
            .map(Self)
            .ok_or_else(|| MeasureError::NotWhole("the length".to_owned()))
    }
}

/// A length as inches with sixteenths: `14 7/8 in`, `just over 14 7/8 in`, `0 in`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Inches(Length);

impl fmt::Display for Inches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nm = self.0.nm();
        let magnitude = nm.unsigned_abs();
        let sixteenth = NM_PER_SIXTEENTH.unsigned_abs();
        if !magnitude.is_multiple_of(sixteenth) {
            f.write_str("just over ")?;
        }
        if nm < 0 {
            f.write_str("-")?;
        }
        let inches = magnitude / NM_PER_INCH.unsigned_abs();
        let mut over = magnitude / sixteenth % 16;
        if over == 0 {
            return write!(f, "{inches} in");
        }
        let mut parts = 16_u64;
        while over.is_multiple_of(2) {
            over /= 2;
            parts /= 2;
        }
        if inches == 0 {
            write!(f, "{over}/{parts} in")
        } else {
            write!(f, "{inches} {over}/{parts} in")
        }
    }
}
