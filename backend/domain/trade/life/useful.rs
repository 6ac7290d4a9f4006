//! Useful lives and prices by kind of fixture and part. Decides how condition moves the age that counts; the figures are the catalogue's
//! or the office's own.

use std::collections::BTreeMap;
use std::fmt;

use super::Weibull;
use crate::domain::code::Coded;
use crate::domain::condition::Condition;
use crate::domain::trade::{FixtureKind, PartKind, Severity, Source};

/// What has a life of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Item {
    /// A fixture of a kind.
    Fixture(FixtureKind),
    /// A part of a kind.
    Part(PartKind),
}

impl Item {
    /// Every kind of fixture, then every kind of part.
    pub fn every() -> impl Iterator<Item = Self> {
        let fixtures = FixtureKind::ALL.iter().map(|kind| Self::Fixture(*kind));
        fixtures.chain(PartKind::ALL.iter().map(|kind| Self::Part(*kind)))
    }

    /// The code of the kind; no part has the code of a fixture.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Fixture(kind) => kind.code(),
            Self::Part(kind) => kind.code(),
        }
    }

    /// As people read it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fixture(kind) => kind.name(),
            Self::Part(kind) => kind.name(),
        }
    }

    /// The kind of this code.
    ///
    /// # Errors
    /// A sentence when there is none.
    pub fn from_code(code: &str) -> Result<Self, String> {
        Self::every()
            .find(|item| item.code() == code)
            .ok_or_else(|| format!("“{code}” is no kind of fixture or part."))
    }
}

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// How long one of a kind lasts, and what a new one costs.
#[derive(Debug, Clone, PartialEq)]
pub struct UsefulLife {
    /// Which kind.
    pub item: Item,
    /// Mean life, years.
    pub mean_years: f64,
    /// Shape of its Weibull lifetime.
    pub shape: f64,
    /// A planned replacement, minor units, labour included.
    pub replacement_minor: i64,
    /// What a failure costs on top, minor units: the damage, the haste.
    pub failure_extra_minor: i64,
    /// Where the life comes from.
    pub life_source: Source,
    /// Where the shape comes from.
    pub shape_source: Source,
    /// Where the costs come from.
    pub cost_source: Source,
}

impl UsefulLife {
    /// Whether one of this age, in years, has reached its mean life.
    #[must_use]
    pub fn is_over(&self, age_years: f64) -> bool {
        age_years >= self.mean_years
    }

    /// Its lifetime in years.
    ///
    /// # Errors
    /// A sentence when the figures can't be reckoned with.
    pub fn lifetime(&self) -> Result<Weibull, String> {
        Weibull::with_mean(self.mean_years, self.shape)
    }
}

/// The lives, prices and rules that a forecast goes by.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lives {
    /// By kind; a kind without one has no age limit and is not forecast.
    pub of: BTreeMap<Item, UsefulLife>,
    /// By how much the age counts for each condition: 1 leaves it as it is.
    pub ageing: BTreeMap<Condition, (f64, Source)>,
    /// What it costs to put right a deficiency of each severity when nothing better is known, minor units.
    pub remedy: BTreeMap<Severity, (i64, Source)>,
}

impl Lives {
    /// The age that counts, years: what is in repair is older than its years.
    #[must_use]
    pub fn effective_age(&self, age_years: f64, condition: Condition) -> f64 {
        age_years * self.ageing.get(&condition).map_or(1.0, |(factor, _)| *factor)
    }
}
