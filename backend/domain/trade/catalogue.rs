//! The catalogue as values: checks, schedule templates by pack, clearance profiles and times to correct.
//! Decides which codes belong together; knows no file and no building.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::clearance::Profile;
use super::correction::Programme;
use super::leak_point::PointSet;
use super::symptom::Symptoms;
use super::water::Water;
use super::{Check, CheckCode, Figure, FixtureKind, PartKind, ProfileCode, Source};
use crate::domain::code::words;
use crate::domain::due::{Anchor, Timing};
use crate::domain::recurrence::{Interval, Rule};

words! {
    /// A set of schedules that a building takes as a whole.
    Pack "pack" {
        Yearly = "yearly", "One visit a year";
        HalfYearly = "half_yearly", "Two visits a year";
        Resident = "resident", "The resident's own tests";
        Chosen = "chosen", "Off until chosen";
    }
}

words! {
    /// What a schedule counts from.
    AnchorKind "anchor" {
        Calendar = "calendar", "By the calendar";
        LastDone = "last_done", "From the last time it was done";
    }
}

/// Which fixtures a schedule template reaches, beyond what its checks say. Empty lists reach all.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TemplateScope {
    /// Kinds of fixture.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kinds: Vec<FixtureKind>,
    /// Kinds of part.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartKind>,
    /// Only fixtures at least this many years old.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age_years: Option<u16>,
}

/// A schedule that a building can take from the catalogue.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ScheduleTemplate {
    /// Its code, unique in the catalogue.
    pub code: CheckCode,
    /// A few words: "Supply lines, yearly".
    pub name: String,
    /// The pack it comes with.
    pub pack: Pack,
    /// What it counts from.
    pub anchor: AnchorKind,
    /// RFC 5545 rule text for the calendar, an ISO 8601 interval (`P1Y`) from last done.
    pub rule: String,
    /// The rule's first day; none from last done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<NaiveDate>,
    /// Days the window opens before the due date.
    pub lead_days: u32,
    /// Days of grace after the due date.
    pub grace_days: u32,
    /// Calendar only: how many days before an occurrence a result still satisfies it; half the shortest gap when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub early_days: Option<u32>,
    /// The checks it makes come due.
    pub checks: Vec<CheckCode>,
    /// Which fixtures it reaches.
    #[serde(default)]
    pub scope: TemplateScope,
    /// Recorded when somebody does it, never due on a list.
    #[serde(default)]
    pub recorded_only: bool,
    /// Why this rule: one sentence.
    pub why: String,
    /// Where the rule, the lead and the grace come from.
    pub source: Source,
}

impl ScheduleTemplate {
    /// The template's timing, its rule parsed and its window proven.
    ///
    /// # Errors
    /// A sentence: a calendar rule without its first day, a rule or interval that can't be read, windows that would overlap.
    pub fn timing(&self) -> Result<Timing, String> {
        let anchor = match (self.anchor, self.start) {
            (AnchorKind::Calendar, Some(start)) => {
                Anchor::Calendar(Rule::parse(&self.rule, start).map_err(|error| error.to_string())?)
            }
            (AnchorKind::Calendar, None) => {
                return Err("a calendar rule needs its first day; write start".to_owned());
            }
            (AnchorKind::LastDone, None) => {
                Anchor::LastDone(self.rule.parse::<Interval>().map_err(|error| error.to_string())?)
            }
            (AnchorKind::LastDone, Some(_)) => {
                return Err("an interval has no first day; leave start out".to_owned());
            }
        };
        Timing::new(anchor, self.lead_days, self.grace_days, self.early_days)
            .map_err(|error| error.to_string())
    }
}

/// Everything built in.
#[derive(Debug, Clone, PartialEq)]
pub struct Catalogue {
    /// The checks, in the order of a walk within each kind.
    pub checks: Vec<Check>,
    /// The schedules that can be taken.
    pub schedules: Vec<ScheduleTemplate>,
    /// The clearance profiles.
    pub profiles: Vec<Profile>,
    /// The programmes of times to correct, the default first.
    pub programmes: Vec<Programme>,
    /// Figures that are no limit of a check.
    pub figures: Vec<Figure>,
    /// Leak points, by kinds of fixture.
    pub leak_points: Vec<PointSet>,
    /// What is known of lost water.
    pub water: Water,
    /// Symptoms and the causes that they lead to.
    pub symptoms: Symptoms,
}

impl Catalogue {
    /// The check of this code.
    #[must_use]
    pub fn check(&self, code: &str) -> Option<&Check> {
        self.checks.iter().find(|check| check.code.as_str() == code)
    }

    /// The clearance profile of this code.
    #[must_use]
    pub fn profile(&self, code: &ProfileCode) -> Option<&Profile> {
        self.profiles.iter().find(|profile| profile.code == *code)
    }

    /// The figure of this code.
    #[must_use]
    pub fn figure(&self, code: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.code == code)
    }

    /// The leak points of a kind of fixture.
    #[must_use]
    pub fn points_of(&self, kind: FixtureKind) -> Option<&PointSet> {
        self.leak_points.iter().find(|set| set.kinds.contains(&kind))
    }

    /// The schedules of a pack.
    pub fn pack(&self, pack: Pack) -> impl Iterator<Item = &ScheduleTemplate> {
        self.schedules
            .iter()
            .filter(move |schedule| schedule.pack == pack)
    }
}
