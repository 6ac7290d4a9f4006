//! What a catalogue file may say, key by key; an unknown key is a mistake and not a wish.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Deserialize;

use crate::domain::measure::Unit;
use crate::domain::trade::catalogue::{AnchorKind, Pack, TemplateScope};
use crate::domain::trade::clearance::Dimension;
use crate::domain::trade::correction::CorrectionTimes;
use crate::domain::trade::leak_point::{Drawing, LeakPoint};
use crate::domain::trade::{
    BaseJoint, Caution, CheckCode, FixtureKind, Group, PartKind, Performer, ProfileCode, Severity, Source,
    TurnoverStage,
};

/// `sources.toml`: key to source.
pub type Sources = BTreeMap<String, Source>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct File {
    pub defaults: Option<Defaults>,
    #[serde(default, rename = "check")]
    pub checks: Vec<Check>,
    #[serde(default, rename = "schedule")]
    pub schedules: Vec<Schedule>,
    #[serde(default, rename = "profile")]
    pub profiles: Vec<Profile>,
    #[serde(default, rename = "programme")]
    pub programmes: Vec<Programme>,
    #[serde(default, rename = "figure")]
    pub figures: Vec<Figure>,
    #[serde(default, rename = "leak_points")]
    pub leak_points: Vec<PointSet>,
    #[serde(default)]
    pub leaking_checks: Vec<CheckCode>,
    #[serde(default, rename = "drip_convention")]
    pub drip_conventions: Vec<DripConvention>,
    #[serde(default, rename = "water_figure")]
    pub water_figures: Vec<WaterFigure>,
    #[serde(default, rename = "cause")]
    pub causes: Vec<Cause>,
    #[serde(default, rename = "symptom")]
    pub symptoms: Vec<Symptom>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Defaults {
    pub minutes_source: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    pub code: CheckCode,
    #[serde(default = "first_version")]
    pub version: u32,
    pub title: String,
    pub kinds: Vec<FixtureKind>,
    #[serde(default)]
    pub parts: Vec<PartKind>,
    pub ask: String,
    #[serde(default)]
    pub method: Vec<String>,
    pub verdict: Option<Verdict>,
    pub reading: Option<Reading>,
    pub severity: Severity,
    pub severity_only_one: Option<Severity>,
    pub severity_common_area: Option<Severity>,
    pub severity_source: String,
    pub minutes: f64,
    pub minutes_source: Option<String>,
    pub group: Group,
    #[serde(default)]
    pub turnover: Vec<TurnoverStage>,
    #[serde(default = "staff")]
    pub performer: Performer,
    #[serde(default)]
    pub off_until_chosen: bool,
    #[serde(default)]
    pub conditions: Conditions,
    #[serde(default)]
    pub cautions: Vec<Caution>,
    pub source: String,
}

fn first_version() -> u32 {
    1
}

fn staff() -> Performer {
    Performer::Staff
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verdict {
    pub pass: String,
    pub fail: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    pub of: String,
    pub unit: Unit,
    #[serde(default)]
    pub limits: Vec<Limit>,
    pub clearance: Option<ClearanceSide>,
}

/// The limits of a reading that come from the clearance profiles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClearanceSide {
    Side,
    Front,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    pub at_least: Option<String>,
    pub at_most: Option<String>,
    pub source: String,
    #[serde(default)]
    pub profiles: Vec<ProfileCode>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conditions {
    pub building_age_years: Option<u16>,
    pub building_age_source: Option<String>,
    #[serde(default)]
    pub base_joint: Vec<BaseJoint>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Schedule {
    pub code: CheckCode,
    pub name: String,
    pub pack: Pack,
    pub anchor: AnchorKind,
    pub rule: String,
    pub start: Option<NaiveDate>,
    pub lead_days: u32,
    pub grace_days: u32,
    pub early_days: Option<u32>,
    pub checks: Vec<CheckCode>,
    #[serde(default)]
    pub scope: TemplateScope,
    #[serde(default)]
    pub recorded_only: bool,
    pub why: String,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Profile {
    pub code: ProfileCode,
    pub name: String,
    #[serde(rename = "rule")]
    pub rules: Vec<Rule>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    pub dimension: Dimension,
    pub at_least: Option<String>,
    pub at_most: Option<String>,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Programme {
    pub code: String,
    pub name: String,
    pub source: String,
    pub times: CorrectionTimes,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    pub code: String,
    pub name: String,
    pub value: String,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointSet {
    pub drawing: Drawing,
    pub kinds: Vec<FixtureKind>,
    #[serde(rename = "point")]
    pub points: Vec<LeakPoint>,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DripConvention {
    pub code: String,
    pub name: String,
    pub drips_per_gallon: f64,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaterFigure {
    pub code: String,
    pub name: String,
    pub value: f64,
    pub unit: String,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cause {
    pub code: CheckCode,
    pub name: String,
    pub remedy: String,
    #[serde(default)]
    pub parts: Vec<PartKind>,
    #[serde(default)]
    pub also: String,
    pub minutes: f64,
    pub minutes_source: Option<String>,
    #[serde(default = "staff")]
    pub performer: Performer,
    #[serde(default)]
    pub cautions: Vec<Caution>,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Symptom {
    pub code: CheckCode,
    pub name: String,
    pub kinds: Vec<FixtureKind>,
    #[serde(rename = "question")]
    pub questions: Vec<Question>,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    pub code: String,
    pub ask: String,
    pub answers: Vec<Reply>,
    #[serde(default)]
    pub cautions: Vec<Caution>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reply {
    pub say: String,
    pub ask: Option<String>,
    pub cause: Option<String>,
}
