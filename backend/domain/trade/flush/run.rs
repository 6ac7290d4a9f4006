//! A flush test as somebody saw it: typed values kept as typed. Decides what belongs to a run; judges nothing.

use serde::{Deserialize, Serialize};

use crate::domain::code::words;
use crate::domain::measure::Unit;
use crate::domain::trade::Verdict;

words! {
    /// Where the water in the tank stands once it is full.
    Level "water level" {
        AtMark = "at_mark", "At the mark";
        Low = "low", "Below the mark";
        High = "high", "Above the mark";
        Overflowing = "overflowing", "Runs into the overflow";
        NotLooked = "not_looked", "Not looked at";
    }
}

/// One flush.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flush {
    /// From the end of the flush until the valve shuts, as typed; a bare number is in seconds.
    pub refill: String,
    /// The bowl was clear after it.
    pub cleared: bool,
    /// It flushed or refilled again by itself.
    pub again: bool,
}

/// A run of flushes, one after the other.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// Water that the tank takes for a flush, as typed; empty when it is not known. A bare number is in US gallons.
    pub tank: String,
    /// The flushes in their order.
    pub flushes: Vec<Flush>,
    /// How long water still ran once the tank was full, as typed; empty when it did not.
    pub runs_on: String,
    /// The level once the tank is full.
    pub level: Level,
}

impl Run {
    /// A run of which only the refills were timed: each cleared, none flushed again.
    pub fn timed<'a>(tank: &str, refills: impl IntoIterator<Item = &'a str>) -> Self {
        let flushes = refills.into_iter().map(|refill| Flush {
            refill: refill.trim().to_owned(),
            cleared: true,
            again: false,
        });
        Self {
            tank: tank.trim().to_owned(),
            flushes: flushes.collect(),
            runs_on: String::new(),
            level: Level::NotLooked,
        }
    }

    /// The refills in one phrase, as typed, with the unit of bare numbers: `32 s, 33 s, 0:31`.
    #[must_use]
    pub fn refills(&self) -> String {
        let refills: Vec<String> = self
            .flushes
            .iter()
            .map(|flush| Unit::Second.behind(&flush.refill))
            .collect();
        refills.join(", ")
    }
}

/// A run with what it meant when it was taken, as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// What was seen.
    pub run: Run,
    /// Pass or fail.
    pub verdict: Verdict,
    /// Why it failed, a phrase each; empty for a pass.
    pub reasons: Vec<String>,
    /// What is worth knowing and fails nothing.
    pub remarks: Vec<String>,
    /// Mean refill time in words: `32 s`.
    pub mean: String,
    /// Refill flow in words, empty when the tank's volume is not known: `3 gal/min`.
    pub flow: String,
}

impl Taken {
    /// The run in phrases, for a history or a paper.
    #[must_use]
    pub fn phrases(&self) -> Vec<String> {
        let flushes = self.run.flushes.len();
        let mut phrases = vec![format!(
            "{flushes} flushes, refills {}; mean {}",
            self.run.refills(),
            self.mean
        )];
        if !self.flow.is_empty() {
            phrases.push(format!(
                "flow {} of a tank of {}",
                self.flow,
                Unit::Gallon.behind(&self.run.tank)
            ));
        }
        phrases.extend(self.reasons.iter().cloned());
        phrases.extend(self.remarks.iter().cloned());
        phrases
    }
}
