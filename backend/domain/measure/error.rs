//! Why a measure can't be taken, as sentences that say what to type instead.

use std::fmt;

use super::{Quantity, Unit};

/// Why a typed measure can't be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MeasureError {
    /// Nothing was typed.
    Empty(Unit),
    /// No number can be made out.
    Unreadable {
        /// What was typed.
        given: String,
        /// The unit that was expected.
        unit: Unit,
    },
    /// A unit that we don't know.
    UnknownUnit {
        /// What was typed.
        given: String,
        /// The word that is no unit.
        word: String,
        /// What was asked for.
        quantity: Quantity,
    },
    /// A unit of another quantity.
    WrongQuantity {
        /// What was typed.
        given: String,
        /// What it measures.
        found: Quantity,
        /// What was asked for.
        wanted: Quantity,
    },
    /// A comma that can be read in two ways.
    AmbiguousComma(String),
    /// Less than nothing.
    Negative(String),
    /// A division by zero.
    ZeroDenominator(String),
    /// Larger than can be meant, or finer than can be kept.
    OutOfRange(String),
    /// A length that is no whole number of nanometres.
    NotWhole(String),
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty(unit) => write!(f, "nothing was entered; write a value such as {}", unit.example()),
            Self::Unreadable { given, unit } => {
                write!(
                    f,
                    "\"{given}\" can't be read as a value; write one such as {}",
                    unit.example()
                )
            }
            Self::UnknownUnit {
                given,
                word,
                quantity,
            } => {
                write!(
                    f,
                    "\"{word}\" in \"{given}\" is no unit we know; write one of {}",
                    quantity.units_in_words()
                )
            }
            Self::WrongQuantity { given, found, wanted } => {
                write!(
                    f,
                    "\"{given}\" is a {}, but a {} is asked for; write one in {}",
                    found.name(),
                    wanted.name(),
                    wanted.units_in_words()
                )
            }
            Self::AmbiguousComma(given) => {
                write!(
                    f,
                    "\"{given}\" can be read in two ways; write it with a decimal point, or without the comma"
                )
            }
            Self::Negative(given) => write!(f, "\"{given}\" is below zero; write 0 or more"),
            Self::ZeroDenominator(given) => write!(f, "\"{given}\" divides by zero; correct the fraction"),
            Self::OutOfRange(given) => write!(
                f,
                "\"{given}\" is larger or finer than can be measured; check the figures and the unit"
            ),
            Self::NotWhole(given) => {
                write!(
                    f,
                    "\"{given}\" is no exact length; write it in sixteenths, in decimals or in millimetres"
                )
            }
        }
    }
}

impl std::error::Error for MeasureError {}
