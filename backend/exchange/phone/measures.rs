//! The units that a phone reads and compares with, as they are in the domain: exact factors and the words that people write.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::domain::code::Coded;
use crate::domain::measure::{Amount, Quantity, Ratio, Unit};

/// Every word that is read as a unit, in lower case. A test holds the list to `Unit::from_word`.
pub const WORDS: &[&str] = &[
    "\"",
    "”",
    "″",
    "''",
    "’’",
    "'",
    "’",
    "′",
    "in",
    "inch",
    "inches",
    "ft",
    "foot",
    "feet",
    "mm",
    "millimetre",
    "millimetres",
    "millimeter",
    "millimeters",
    "cm",
    "centimetre",
    "centimetres",
    "centimeter",
    "centimeters",
    "m",
    "metre",
    "metres",
    "meter",
    "meters",
    "s",
    "sec",
    "secs",
    "second",
    "seconds",
    "min",
    "mins",
    "minute",
    "minutes",
    "h",
    "hr",
    "hrs",
    "hour",
    "hours",
    "gal",
    "gals",
    "gallon",
    "gallons",
    "qt",
    "quart",
    "quarts",
    "cup",
    "cups",
    "oz",
    "fl oz",
    "floz",
    "ounce",
    "ounces",
    "imp gal",
    "imp_gal",
    "ft3",
    "ft³",
    "cf",
    "m3",
    "m³",
    "ccf",
    "hcf",
    "hundred cubic feet",
    "kgal",
    "thousand gallons",
    "l",
    "litre",
    "litres",
    "liter",
    "liters",
    "ml",
    "millilitre",
    "millilitres",
    "milliliter",
    "milliliters",
    "gpm",
    "gal/min",
    "l/min",
    "lpm",
    "psi",
    "kpa",
    "bar",
    "f",
    "°f",
    "deg f",
    "fahrenheit",
    "c",
    "°c",
    "deg c",
    "celsius",
    "count",
    "pcs",
    "pieces",
    "times",
    "%",
    "percent",
    "per cent",
];

/// An exact number as numerator and denominator.
pub type Exact = (i128, i128);

/// A unit as a phone knows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Measure {
    /// What one of it is in the base unit of its quantity.
    pub factor: Exact,
    /// What is added before the factor applies.
    pub offset: Exact,
    /// The words that name it, in lower case.
    pub spellings: Vec<&'static str>,
    /// Code of the unit that a bare number after it is in; empty when there is none.
    pub below: &'static str,
}

/// Every unit by its code, by the code of its quantity.
pub type Measures = BTreeMap<&'static str, BTreeMap<&'static str, Measure>>;

/// A fraction as it is written.
#[must_use]
pub fn exact(value: Ratio) -> Exact {
    (value.numerator(), value.denominator())
}

/// An amount in the base unit of its quantity.
#[must_use]
pub fn exact_amount(amount: &Amount) -> Exact {
    exact(amount.base())
}

/// All units.
#[must_use]
pub fn measures() -> Measures {
    let mut all = Measures::new();
    for unit in Unit::ALL.iter().copied() {
        let quantity = unit.quantity();
        let measure = Measure {
            factor: exact(unit.factor()),
            offset: exact(unit.offset()),
            spellings: spellings(unit, quantity),
            below: unit.next_smaller().map_or("", Coded::code),
        };
        all.entry(quantity.code())
            .or_default()
            .insert(unit.code(), measure);
    }
    all
}

fn spellings(unit: Unit, quantity: Quantity) -> Vec<&'static str> {
    let words = WORDS.iter().copied();
    words
        .filter(|word| Unit::from_word(word, quantity) == Some(unit))
        .collect()
}
