//! A measured value of any quantity, exact. Decides what a typed text amounts to and which of two is more; knows no limit.

use std::cmp::Ordering;

use super::text::terms;
use super::{MeasureError, Quantity, Ratio, Unit};

/// A value of a quantity, kept as an exact fraction of the quantity's base unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Amount {
    quantity: Quantity,
    base: Ratio,
}

impl Amount {
    /// So many of a unit; none when it doesn't fit.
    #[must_use]
    pub fn of(value: Ratio, unit: Unit) -> Option<Self> {
        let base = value.plus(unit.offset())?.times(unit.factor())?;
        Some(Self {
            quantity: unit.quantity(),
            base,
        })
    }

    /// Reads a value as people type it; a bare number is in `unit`, and after feet, hours or minutes in the next smaller one.
    ///
    /// # Errors
    /// A sentence that says what to type: no number, an unknown unit, a unit of another quantity, a comma that can be read in two
    /// ways, a value below zero (temperatures may be), a value that can't be kept.
    pub fn parse(given: &str, unit: Unit) -> Result<Self, MeasureError> {
        let wanted = unit.quantity();
        let clock = if wanted == Quantity::Time {
            clock_face(given)
        } else {
            None
        };
        let terms = terms(clock.as_deref().unwrap_or(given), unit)?;
        let given = given.trim();
        let too_large = || MeasureError::OutOfRange(given.to_owned());
        let mut sum: Option<Ratio> = None;
        let mut last: Option<Unit> = None;
        for term in &terms {
            let term_unit = if term.word.is_empty() {
                match last {
                    None => unit,
                    Some(before) => before.next_smaller().ok_or_else(|| unreadable(given, unit))?,
                }
            } else {
                Unit::from_word(&term.word, wanted).ok_or_else(|| MeasureError::UnknownUnit {
                    given: given.to_owned(),
                    word: term.word.clone(),
                    quantity: wanted,
                })?
            };
            if term_unit.quantity() != wanted {
                return Err(MeasureError::WrongQuantity {
                    given: given.to_owned(),
                    found: term_unit.quantity(),
                    wanted,
                });
            }
            if term.value.numerator() < 0 && !wanted.may_be_negative() {
                return Err(MeasureError::Negative(given.to_owned()));
            }
            // Only `2 ft 3 in` and `1 min 20 s` are more than one number: each in a smaller unit than the one before.
            if last.is_some_and(|before| before.next_smaller() != Some(term_unit)) {
                return Err(unreadable(given, unit));
            }
            let part = Self::of(term.value, term_unit).ok_or_else(too_large)?.base;
            sum = Some(match sum {
                None => part,
                Some(sum) => sum.plus(part).ok_or_else(too_large)?,
            });
            last = Some(term_unit);
        }
        let base = sum.ok_or_else(|| unreadable(given, unit))?;
        Ok(Self {
            quantity: wanted,
            base,
        })
    }

    /// What is measured.
    #[must_use]
    pub const fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// The value in the base unit of its quantity.
    #[must_use]
    pub const fn base(&self) -> Ratio {
        self.base
    }

    /// The exact value in a unit; none when the unit measures something else or it doesn't fit.
    #[must_use]
    pub fn in_unit(&self, unit: Unit) -> Option<Ratio> {
        if unit.quantity() != self.quantity {
            return None;
        }
        self.base.over(unit.factor())?.minus(unit.offset())
    }

    /// Which of two is more, exactly.
    ///
    /// # Errors
    /// When they measure different things, or the figures are too long to compare.
    pub fn compare(&self, other: &Self) -> Result<Ordering, MeasureError> {
        if self.quantity != other.quantity {
            return Err(MeasureError::WrongQuantity {
                given: other.quantity.name().to_owned(),
                found: other.quantity,
                wanted: self.quantity,
            });
        }
        self.base
            .order(other.base)
            .ok_or_else(|| MeasureError::OutOfRange(self.quantity.name().to_owned()))
    }
}

fn unreadable(given: &str, unit: Unit) -> MeasureError {
    MeasureError::Unreadable {
        given: given.to_owned(),
        unit,
    }
}

/// `1:20` as minutes and seconds; none when it is not written like that.
fn clock_face(given: &str) -> Option<String> {
    let (minutes, seconds) = given.trim().split_once(':')?;
    let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    (digits(minutes) && digits(seconds) && seconds.len() == 2 && seconds < "60")
        .then(|| format!("{minutes} min {seconds} s"))
}
