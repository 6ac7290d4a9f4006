//! What a check is: what to do, what to answer, what passes, how grave a failure is, how long it takes, who may do it.
//! Decides which checks apply to a fixture; knows no schedule, no result and no file format.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::{Caution, FixtureKind, PartKind, Setting, Severity, Source};
use crate::domain::code::words;
use crate::domain::measure::Unit;

/// The code of a check: lower-case letters, digits and underscores, such as `wc_base_dry`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct CheckCode(String);

/// A code that is not written as codes are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MalformedCode(pub String);

impl fmt::Display for MalformedCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "\"{}\" can't be a code; write 2 to 48 lower-case letters, digits and underscores, a letter first, such as wc_base_dry",
            self.0
        )
    }
}

impl std::error::Error for MalformedCode {}

fn is_code(text: &str) -> bool {
    (2..=48).contains(&text.len())
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && text
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

macro_rules! code_newtype {
    ($Name:ident) => {
        impl $Name {
            /// The code as stored and exchanged.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }

            /// Whether it is written as codes are; one that came through serde may not be.
            #[must_use]
            pub fn is_well_formed(&self) -> bool {
                is_code(&self.0)
            }
        }

        impl FromStr for $Name {
            type Err = MalformedCode;

            fn from_str(text: &str) -> Result<Self, Self::Err> {
                if is_code(text) {
                    Ok(Self(text.to_owned()))
                } else {
                    Err(MalformedCode(text.to_owned()))
                }
            }
        }

        impl fmt::Display for $Name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    };
}

code_newtype!(CheckCode);
code_newtype!(ProfileCode);

/// The code of a clearance profile, such as `ipc`; a building has one.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ProfileCode(String);

impl ProfileCode {
    /// The codes of the built-in profiles; a test holds them to `seeds/catalogue/clearance.toml`.
    pub const BUILT_IN: [&'static str; 4] = ["ipc", "upc", "ada", "ada_dwelling"];
}

words! {
    /// The part of a walk a check belongs to: dry look before water, water before measuring.
    Group "group" {
        Look = "look", "Look";
        Water = "water", "Water";
        Measure = "measure", "Measure";
    }
}

words! {
    /// The stage of a turnover that asks for a check.
    TurnoverStage "turnover stage" {
        Found = "found", "As found";
        Ready = "ready", "Ready";
        MoveIn = "move_in", "Move-in day";
    }
}

words! {
    /// Who may do a check.
    Performer "performer" {
        Staff = "staff", "Staff";
        Resident = "resident", "Resident";
        LicensedPlumber = "licensed_plumber", "Licensed plumber";
        LicensedTester = "licensed_tester", "Licensed backflow tester";
        LicensedGasFitter = "licensed_gas_fitter", "Licensed gas fitter";
        LicensedElectrician = "licensed_electrician", "Licensed electrician";
    }
}

words! {
    /// A building's policy for the joint between bowl and floor; local code first.
    BaseJoint "base joint policy" {
        Sealed = "sealed", "Sealed all round";
        RearOpen = "rear_open", "Rear left open";
        NotNoted = "not_noted", "Not noted";
    }
}

words! {
    /// Which side of a limit passes. Both are inclusive.
    Bound "bound" {
        AtLeast = "at_least", "at least";
        AtMost = "at_most", "at most";
    }
}

/// A limit of a reading, inclusive, in the unit of the rule that sets it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Which side passes.
    pub bound: Bound,
    /// The value with its unit, as the rule prints it: "15 in", "80 psi".
    pub value: String,
    /// Where it comes from.
    pub source: Source,
    /// The clearance profiles it holds for; empty for all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub profiles: Vec<ProfileCode>,
}

impl Limit {
    /// Whether the limit holds under the building's profile.
    #[must_use]
    pub fn holds_under(&self, profile: &ProfileCode) -> bool {
        self.profiles.is_empty() || self.profiles.contains(profile)
    }
}

/// What a check asks for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Answer {
    /// Seen, heard or felt: pass or fail, each in the trade's words.
    Verdict {
        /// What passes: "Dry all round".
        pass: String,
        /// What fails: "Wet, stained or smells".
        fail: String,
    },
    /// A measured value.
    Reading {
        /// What is read: "Refill time".
        of: String,
        /// The unit a bare number is in.
        unit: Unit,
        /// What passes; each inclusive. None means any readable value is an answer, kept as a record.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        limits: Vec<Limit>,
    },
}

/// The age from which a building is asked a check.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BuildingAge {
    /// Whole years since it was built, inclusive.
    pub at_least_years: u16,
    /// Where the age comes from.
    pub source: Source,
}

/// When a check is asked only of some buildings.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conditions {
    /// Only where the building is old enough; one of unknown age counts as old.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub building_age: Option<BuildingAge>,
    /// Only under these policies for the base joint; empty for all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub base_joint: Vec<BaseJoint>,
}

/// What is known of a building when its checks are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BuildingFacts {
    /// Whole years since it was built, when known.
    pub age_years: Option<u16>,
    /// Its policy for the base joint.
    pub base_joint: BaseJoint,
}

/// A check: a procedure on a fixture or on one of its parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// Its code; results, schedules and files name it by this.
    pub code: CheckCode,
    /// Grows by one with every change of the procedure, from 1.
    pub version: u32,
    /// A few words: "Base dry while flushing".
    pub title: String,
    /// The kinds of fixture it is asked of.
    pub kinds: Vec<FixtureKind>,
    /// The parts it is asked of, one due item each; empty when it is asked of the fixture.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartKind>,
    /// One sentence: what to do.
    pub ask: String,
    /// How to do it, a step a line, for whoever opens it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub method: Vec<String>,
    /// What to answer and what passes.
    pub answer: Answer,
    /// How grave a failure is.
    pub severity: Severity,
    /// How grave when the unit has no other of the kind; `severity` when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub severity_only_one: Option<Severity>,
    /// How grave in a common area; `severity` when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub severity_common_area: Option<Severity>,
    /// Where the severity comes from.
    pub severity_source: Source,
    /// Minutes of work, fractions allowed.
    pub minutes: f64,
    /// Where the minutes come from.
    pub minutes_source: Source,
    /// The part of the walk.
    pub group: Group,
    /// The stages of a turnover that ask for it; empty when none does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub turnover: Vec<TurnoverStage>,
    /// Who may do it.
    pub performer: Performer,
    /// Off until somebody chooses it: only schedules of the pack `chosen` name it, and no turnover asks for it.
    #[serde(default)]
    pub off_until_chosen: bool,
    /// The buildings it is asked of.
    #[serde(default)]
    pub conditions: Conditions,
    /// The dangers it touches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// Where the method comes from; a limit and a severity carry their own.
    pub source: Source,
}

impl Check {
    /// Whether the check is asked of a fixture of this kind (`part` none) or of this part of it.
    #[must_use]
    pub fn is_asked_of(&self, kind: FixtureKind, part: Option<PartKind>) -> bool {
        self.kinds.contains(&kind)
            && match part {
                None => self.parts.is_empty(),
                Some(part) => self.parts.contains(&part),
            }
    }

    /// Whether the check is asked in a building like this. An unknown age counts as old: better one look too many.
    #[must_use]
    pub fn is_asked_in(&self, building: BuildingFacts) -> bool {
        let old_enough = match (&self.conditions.building_age, building.age_years) {
            (Some(limit), Some(age)) => age >= limit.at_least_years,
            (Some(_), None) | (None, _) => true,
        };
        let joint = self.conditions.base_joint.is_empty()
            || self.conditions.base_joint.contains(&building.base_joint);
        old_enough && joint
    }

    /// How grave a failure is where the fixture stands.
    #[must_use]
    pub fn severity_in(&self, setting: Setting) -> Severity {
        match setting {
            Setting::OnlyOneInUnit => self.severity_only_one.unwrap_or(self.severity),
            Setting::OneOfSeveral => self.severity,
            Setting::CommonArea => self.severity_common_area.unwrap_or(self.severity),
        }
    }

    /// The cautions as sentences, each ending in the deference to local codes and licensed practice.
    #[must_use]
    pub fn caution_sentences(&self) -> Vec<String> {
        self.cautions.iter().map(|caution| caution.sentence()).collect()
    }
}
