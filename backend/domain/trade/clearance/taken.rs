//! Clearances as they are kept: the measures as typed, each rule with its shortfall as it was then, and what was decided. What is short
//! may be accepted as found or must be put right; the two are different answers.

use serde::{Deserialize, Serialize};

use super::{Clearance, Dimension, Measured, Profile};
use crate::domain::code::words;
use crate::domain::measure::{Length, LengthUnit, MeasureError};
use crate::domain::trade::{Bound, ProfileCode, Verdict};

words! {
    /// What is done about a clearance as it was found.
    Decision "decision" {
        Kept = "kept", "Every limit measured is kept";
        AsFound = "as_found", "Short, accepted as found";
        MustFix = "must_fix", "Short, must be put right";
    }
}

/// The measures as typed; an empty text was not measured.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Typed {
    /// Centreline to the left.
    pub left: String,
    /// Centreline to the right.
    pub right: String,
    /// Clear in front.
    pub front: String,
    /// Centre to the next fixture's centre.
    pub centre_to_centre: String,
    /// Floor to the top of the seat.
    pub seat_height: String,
    /// Clear width from the side wall.
    pub width: String,
    /// Clear depth from the rear wall.
    pub depth: String,
}

impl Typed {
    /// The measures with their dimensions, in the order of a form.
    #[must_use]
    pub const fn each(&self) -> [(Dimension, &String); 7] {
        [
            (Dimension::Left, &self.left),
            (Dimension::Right, &self.right),
            (Dimension::Front, &self.front),
            (Dimension::CentreToCentre, &self.centre_to_centre),
            (Dimension::SeatHeight, &self.seat_height),
            (Dimension::Width, &self.width),
            (Dimension::Depth, &self.depth),
        ]
    }

    /// The exact measures; a bare number is in `unit`.
    ///
    /// # Errors
    /// The dimensions that can't be read, each with a phrase.
    pub fn read(&self, unit: LengthUnit) -> Result<Measured, Vec<(Dimension, MeasureError)>> {
        let mut errors = Vec::new();
        let mut one = |dimension: Dimension, text: &str| match text.trim() {
            "" => None,
            text => Length::parse(text, unit)
                .map_err(|error| errors.push((dimension, error)))
                .ok(),
        };
        let measured = Measured {
            left: one(Dimension::Left, &self.left),
            right: one(Dimension::Right, &self.right),
            front: one(Dimension::Front, &self.front),
            centre_to_centre: one(Dimension::CentreToCentre, &self.centre_to_centre),
            seat_height: one(Dimension::SeatHeight, &self.seat_height),
            width: one(Dimension::Width, &self.width),
            depth: one(Dimension::Depth, &self.depth),
        };
        if errors.is_empty() {
            Ok(measured)
        } else {
            Err(errors)
        }
    }
}

impl Dimension {
    /// From where to where it is measured; always to the finished surface (common practice, no source).
    #[must_use]
    pub const fn measured_from(self) -> &'static str {
        match self {
            Self::Left => "from the bowl's centreline to the wall or obstruction on the left",
            Self::Right => "from the bowl's centreline to the wall or obstruction on the right",
            Self::NearSide => "from the bowl's centreline to the nearer side wall",
            Self::Front => "from the bowl's front edge to the next wall, fixture or door",
            Self::CentreToCentre => "from the bowl's centreline to the centre of the next fixture",
            Self::SeatHeight => "from the floor to the top of the seat",
            Self::Width => "from the side wall across the clear floor",
            Self::Depth => "from the rear wall forward over the clear floor",
        }
    }
}

/// A rule with what was measured against it, as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// What was measured.
    pub dimension: Dimension,
    /// Which side of the limit passes.
    pub bound: Bound,
    /// The limit in the rule's own unit, as it was then.
    pub limit: String,
    /// Where the limit comes from, as a phrase.
    pub source: String,
    /// How far the measure is on the wrong side; nothing when the rule is kept.
    pub short_by: Length,
}

/// A clearance as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// The profile that it was held against.
    pub profile: ProfileCode,
    /// The profile's name then.
    pub profile_name: String,
    /// The unit of bare numbers then.
    pub unit: LengthUnit,
    /// The measures as typed.
    pub typed: Typed,
    /// Each rule that could be judged.
    pub held: Vec<Held>,
    /// What is done about it.
    pub decision: Decision,
    /// By whom and why it was accepted as found; empty otherwise.
    pub accepted: String,
}

impl Taken {
    /// Fails only what must be put right: older work may be accepted as it was found.
    #[must_use]
    pub const fn verdict(&self) -> Verdict {
        match self.decision {
            Decision::Kept | Decision::AsFound => Verdict::Pass,
            Decision::MustFix => Verdict::Fail,
        }
    }

    /// The clearance in phrases: the measures as typed, each shortfall, what was decided.
    #[must_use]
    pub fn phrases(&self) -> Vec<String> {
        let measures: Vec<String> = self
            .typed
            .each()
            .into_iter()
            .filter(|(_, text)| !text.is_empty())
            .map(|(dimension, text)| {
                format!(
                    "{} {}",
                    dimension.name().to_lowercase(),
                    self.unit.unit().behind(text)
                )
            })
            .collect();
        let mut phrases = vec![measures.join(", ")];
        phrases.extend(self.short().map(|held| held.phrase(self.unit)));
        let accepted = if self.accepted.is_empty() {
            String::new()
        } else {
            format!(": {}", self.accepted)
        };
        phrases.push(format!(
            "{} ({}){accepted}",
            self.decision.name().to_lowercase(),
            self.profile_name
        ));
        phrases
    }

    /// The rules that are not kept.
    pub fn short(&self) -> impl Iterator<Item = &Held> {
        self.held.iter().filter(|held| held.short_by > Length::ZERO)
    }
}

impl Held {
    /// "centreline to the left short of 15 in by 1/8 in (IPC 405.3.1)".
    #[must_use]
    pub fn phrase(&self, unit: LengthUnit) -> String {
        let (side, by) = match self.bound {
            Bound::AtLeast => ("short of", "by"),
            Bound::AtMost => ("over", "by"),
        };
        format!(
            "{} {side} {} {by} {} ({})",
            self.dimension.name().to_lowercase(),
            self.limit,
            self.short_by.show(unit),
            self.source
        )
    }
}

impl Clearance {
    /// Each rule that was judged with its shortfall, in the profile's order, as it is kept.
    #[must_use]
    pub fn held(&self, profile: &Profile) -> Vec<Held> {
        profile
            .rules
            .iter()
            .filter(|rule| !self.not_measured.contains(&rule.dimension))
            .map(|rule| Held {
                dimension: rule.dimension,
                bound: rule.bound,
                limit: rule.limit.clone(),
                source: rule.source.phrase(),
                short_by: self
                    .findings
                    .iter()
                    .find(|finding| finding.rule == *rule)
                    .map_or(Length::ZERO, |finding| finding.short_by),
            })
            .collect()
    }
}
