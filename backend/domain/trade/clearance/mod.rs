//! Clearances of a water closet: what a profile wants, what was measured, what is short and by how much.
//! Decides pass or fail by exact lengths, limits inclusive; knows no building and draws nothing.

mod once;
mod own;
mod taken;

use serde::{Deserialize, Serialize};

use super::check::{Bound, ProfileCode};
use super::outcome::Verdict;
use super::source::Source;
use crate::domain::code::words;
use crate::domain::measure::{Length, LengthUnit, MeasureError};

pub use once::{PLAN, READ_ONCE, TELLING, is_unmeasured};
pub use own::OWN;
pub use taken::{Decision, Held, Taken, Typed};

words! {
    /// A distance that a rule speaks of, from the finished surface.
    Dimension "clearance" {
        Left = "left", "Centreline to the left";
        Right = "right", "Centreline to the right";
        NearSide = "near_side", "Centreline to the nearer side";
        Front = "front", "Clear in front";
        CentreToCentre = "centre_to_centre", "Centre to the next fixture's centre";
        SeatHeight = "seat_height", "Floor to the top of the seat";
        Width = "width", "Clear width from the side wall";
        Depth = "depth", "Clear depth from the rear wall";
    }
}

/// One limit of a profile, inclusive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// What is measured.
    pub dimension: Dimension,
    /// Which side of the limit passes.
    pub bound: Bound,
    /// The limit in the rule's own unit: "15 in".
    pub limit: String,
    /// Where it comes from.
    pub source: Source,
}

/// A set of rules, named by its code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Profile {
    /// Its code.
    pub code: ProfileCode,
    /// Its name.
    pub name: String,
    /// Its rules.
    #[serde(rename = "rule")]
    pub rules: Vec<Rule>,
}

/// What was measured, each to the finished surface; what was not measured is not judged.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Measured {
    /// Centreline to the wall or obstruction on the left, seen from in front.
    pub left: Option<Length>,
    /// Centreline to the wall or obstruction on the right.
    pub right: Option<Length>,
    /// Clear space in front.
    pub front: Option<Length>,
    /// Centre to centre with the next fixture.
    pub centre_to_centre: Option<Length>,
    /// Floor to the top of the seat.
    pub seat_height: Option<Length>,
    /// Clear floor from the side wall, across.
    pub width: Option<Length>,
    /// Clear floor from the rear wall, forward.
    pub depth: Option<Length>,
}

/// One rule that is not kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The rule.
    pub rule: Rule,
    /// Its limit.
    pub limit: Length,
    /// What was measured.
    pub measured: Length,
    /// How far the measure is on the wrong side of the limit; always above zero.
    pub short_by: Length,
}

/// The answer of a profile to a set of measures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clearance {
    /// Pass when every rule that could be judged is kept.
    pub verdict: Verdict,
    /// The rules that are not kept, in the profile's order.
    pub findings: Vec<Finding>,
    /// The dimensions of the profile that were not measured.
    pub not_measured: Vec<Dimension>,
    /// How many rules were judged.
    pub judged: usize,
}

impl Clearance {
    /// Whether anything was judged at all; a pass without is no answer.
    #[must_use]
    pub const fn is_answered(&self) -> bool {
        self.judged > 0
    }
}

impl Measured {
    fn of(&self, dimension: Dimension) -> Option<Length> {
        match dimension {
            Dimension::Left => self.left,
            Dimension::Right => self.right,
            Dimension::NearSide => match (self.left, self.right) {
                (Some(left), Some(right)) => Some(left.min(right)),
                (one, other) => one.or(other),
            },
            Dimension::Front => self.front,
            Dimension::CentreToCentre => self.centre_to_centre,
            Dimension::SeatHeight => self.seat_height,
            Dimension::Width => self.width,
            Dimension::Depth => self.depth,
        }
    }
}

impl Rule {
    /// The limit as an exact length.
    ///
    /// # Errors
    /// When the text is no length.
    pub fn length(&self) -> Result<Length, MeasureError> {
        Length::parse(&self.limit, LengthUnit::Inch)
    }
}

impl Profile {
    /// Judges what was measured against the rules.
    ///
    /// # Errors
    /// When a rule's limit is no length.
    pub fn judge(&self, measured: &Measured) -> Result<Clearance, MeasureError> {
        let mut findings = Vec::new();
        let mut not_measured = Vec::new();
        let mut judged = 0;
        for rule in &self.rules {
            let limit = rule.length()?;
            let Some(value) = measured.of(rule.dimension) else {
                if !not_measured.contains(&rule.dimension) {
                    not_measured.push(rule.dimension);
                }
                continue;
            };
            judged += 1;
            let short_by = match rule.bound {
                Bound::AtLeast => limit.minus(value),
                Bound::AtMost => value.minus(limit),
            };
            if short_by > Length::ZERO {
                findings.push(Finding {
                    rule: rule.clone(),
                    limit,
                    measured: value,
                    short_by,
                });
            }
        }
        let verdict = if findings.is_empty() {
            Verdict::Pass
        } else {
            Verdict::Fail
        };
        Ok(Clearance {
            verdict,
            findings,
            not_measured,
            judged,
        })
    }
}
