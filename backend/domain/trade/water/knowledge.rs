//! The figures behind a loss of water, as the catalogue gives them: conventions of a drip, constants, limits of what can be meant.
//! Decides nothing about a leak.

use serde::{Deserialize, Serialize};

use crate::domain::trade::{CheckCode, Source};

/// How many drips somebody takes for a gallon. They disagree by half, so a figure names its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DripConvention {
    /// Its code.
    pub code: String,
    /// As pages print it: "10,000 drips a gallon".
    pub name: String,
    /// Drips in a US gallon.
    pub drips_per_gallon: f64,
    /// Who counts so.
    pub source: Source,
}

/// A figure with its unit and source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// Its code: `discharge`, `most_drips_per_minute`.
    pub code: String,
    /// What it is, in a few words.
    pub name: String,
    /// The value.
    pub value: f64,
    /// Its unit; `1` for a plain number.
    pub unit: String,
    /// Where it comes from.
    pub source: Source,
}

/// What the trade knows of lost water.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Water {
    /// The conventions of a drip, the usual one first.
    pub conventions: Vec<DripConvention>,
    /// Constants and limits.
    pub figures: Vec<Figure>,
    /// The checks whose failure loses water from the supply.
    pub leaking: Vec<CheckCode>,
}

impl Water {
    /// The codes of the figures that the formulas and limits read; a catalogue holds each of them once.
    pub const NEEDED: [&'static str; 16] = [
        "orifice",
        "discharge",
        "gallon",
        "most_drips_per_minute",
        "least_drips_per_gallon",
        "most_drips_per_gallon",
        "most_cup",
        "most_cup_time",
        "most_tank_side",
        "most_hours",
        "most_cycle_volume",
        "most_cycle_time",
        "most_meter_volume",
        "most_hole",
        "most_pressure",
        "month",
    ];

    /// The convention of a code.
    #[must_use]
    pub fn convention(&self, code: &str) -> Option<&DripConvention> {
        self.conventions.iter().find(|convention| convention.code == code)
    }

    /// The figure of a code.
    #[must_use]
    pub fn figure(&self, code: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.code == code)
    }

    /// The value of a figure; what no catalogue lacks is never the other.
    #[must_use]
    pub fn value(&self, code: &str) -> f64 {
        self.figure(code).map_or(f64::NAN, |figure| figure.value)
    }
}
