//! A check of the users' own as typed, and what it means once every field was read. Decides which words make a check; the limits of a
//! reading are lines of text. Knows no stored check.

use super::check::{Answer, Bound, BuildingAge, Check, CheckCode, Conditions, Limit};
use super::{
    BaseJoint, Caution, FixtureKind, Group, PartKind, Performer, ProfileCode, Severity, Source, Standing,
    TurnoverStage,
};
use crate::domain::code::Coded;
use crate::domain::field::FieldError;
use crate::domain::measure::{Amount, Unit};
use crate::domain::register::typed::Typed;

/// The most minutes one check may take: a working day.
pub const MOST_MINUTES: f64 = 480.0;

/// A check as typed. Lists hold codes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CheckText {
    /// Short code, field `code`.
    pub code: String,
    /// A few words, field `title`.
    pub title: String,
    /// Kinds of fixture, field `kinds`.
    pub kinds: Vec<String>,
    /// Parts, field `parts`; empty when it is asked of the fixture.
    pub parts: Vec<String>,
    /// One sentence: what to do, field `ask`.
    pub ask: String,
    /// Steps, a line each, field `method`.
    pub method: String,
    /// `verdict` or `reading`, field `answer`; empty for a verdict.
    pub answer: String,
    /// What passes, field `pass`; of a verdict.
    pub pass: String,
    /// What fails, field `fail`; of a verdict.
    pub fail: String,
    /// What is read, field `reading_of`; of a reading.
    pub reading_of: String,
    /// Code of the unit, field `unit`; of a reading.
    pub unit: String,
    /// Limits, a line each, field `limits`: `at_least 15 in | IPC 405.3.1 | ipc ada`, source and profiles may be left out.
    pub limits: String,
    /// Field `severity`.
    pub severity: String,
    /// Field `severity_only_one`; empty for the same.
    pub severity_only_one: String,
    /// Field `severity_common_area`; empty for the same.
    pub severity_common_area: String,
    /// Where the severity comes from, field `severity_source`; empty for common practice.
    pub severity_source: String,
    /// Minutes, fractions allowed, field `minutes`.
    pub minutes: String,
    /// Where the minutes come from, field `minutes_source`; empty for common practice.
    pub minutes_source: String,
    /// Field `group`; empty for look.
    pub group: String,
    /// Stages of a turnover, field `turnover`.
    pub turnover: Vec<String>,
    /// Who may do it, field `performer`; empty for staff.
    pub performer: String,
    /// Only in buildings at least so old, field `building_age_years`; empty for all.
    pub building_age_years: String,
    /// Only under these policies for the base joint, field `base_joint`.
    pub base_joint: Vec<String>,
    /// Dangers, field `cautions`.
    pub cautions: Vec<String>,
    /// Where the method comes from, field `source`; empty for common practice.
    pub source: String,
}

impl CheckText {
    /// A check as a form shows it.
    #[must_use]
    pub fn of(check: &Check) -> Self {
        let text = Self {
            code: check.code.as_str().to_owned(),
            title: check.title.clone(),
            kinds: codes_of(&check.kinds),
            parts: codes_of(&check.parts),
            ask: check.ask.clone(),
            method: check.method.join("\n"),
            severity: check.severity.code().to_owned(),
            severity_only_one: check
                .severity_only_one
                .map(Coded::code)
                .unwrap_or_default()
                .to_owned(),
            severity_common_area: check
                .severity_common_area
                .map(Coded::code)
                .unwrap_or_default()
                .to_owned(),
            severity_source: source_text(&check.severity_source),
            minutes: check.minutes.to_string(),
            minutes_source: source_text(&check.minutes_source),
            group: check.group.code().to_owned(),
            turnover: codes_of(&check.turnover),
            performer: check.performer.code().to_owned(),
            building_age_years: check
                .conditions
                .building_age
                .as_ref()
                .map(|age| age.at_least_years.to_string())
                .unwrap_or_default(),
            base_joint: codes_of(&check.conditions.base_joint),
            cautions: codes_of(&check.cautions),
            source: source_text(&check.source),
            ..Self::default()
        };
        match &check.answer {
            Answer::Verdict { pass, fail } => Self {
                answer: "verdict".to_owned(),
                pass: pass.clone(),
                fail: fail.clone(),
                ..text
            },
            Answer::Reading { of, unit, limits } => Self {
                answer: "reading".to_owned(),
                reading_of: of.clone(),
                unit: unit.code().to_owned(),
                limits: limits.iter().map(limit_text).collect::<Vec<_>>().join("\n"),
                ..text
            },
        }
    }

    /// Reads what was typed as the version after `before`, whose code and whose being off until chosen it keeps; a new check is on.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`CheckText`].
    pub fn read(&self, before: Option<&Check>) -> Result<Check, Vec<FieldError>> {
        let mut typed = Typed::new();
        let code = match before {
            Some(check) => Some(check.code.clone()),
            None => self.read_code(&mut typed),
        };
        let title = typed.needed("title", "Title", &self.title, 80);
        let ask = typed.needed("ask", "What to do", &self.ask, 240);
        let method = typed.lines("method", "Steps", &self.method, 2_000);
        let kinds: Vec<FixtureKind> = codes(&mut typed, "kinds", &self.kinds);
        if self.kinds.is_empty() {
            typed.refuse(
                "kinds",
                "No kind of fixture is named. Choose what the check is done on.",
            );
        }
        let parts: Vec<PartKind> = codes(&mut typed, "parts", &self.parts);
        let answer = self.read_answer(&mut typed);
        let severity = typed.choice("severity", &self.severity, Severity::Moderate);
        let off_until_chosen = before.is_some_and(|check| check.off_until_chosen);
        let turnover: Vec<TurnoverStage> = codes(&mut typed, "turnover", &self.turnover);
        if off_until_chosen && !turnover.is_empty() {
            typed.refuse(
                "turnover",
                "A check that is off until chosen belongs to no turnover. Leave the stages out.",
            );
        }
        let minutes = self.read_minutes(&mut typed);
        let conditions = self.read_conditions(&mut typed, before);
        let (Some(code), Some(answer)) = (code, answer) else {
            return Err(typed.finish(()).err().unwrap_or_default());
        };
        let check = Check {
            code,
            version: before.map_or(1, |check| check.version + 1),
            title,
            kinds,
            parts,
            ask,
            method: method
                .lines()
                .map(str::trim)
                .filter(|line| !line.is_empty())
                .map(str::to_owned)
                .collect(),
            answer,
            severity,
            severity_only_one: optional(&mut typed, "severity_only_one", &self.severity_only_one),
            severity_common_area: optional(&mut typed, "severity_common_area", &self.severity_common_area),
            severity_source: read_source(&self.severity_source),
            minutes,
            minutes_source: read_source(&self.minutes_source),
            group: typed.choice("group", &self.group, Group::Look),
            turnover,
            performer: typed.choice("performer", &self.performer, Performer::Staff),
            off_until_chosen,
            conditions,
            cautions: codes::<Caution>(&mut typed, "cautions", &self.cautions),
            source: read_source(&self.source),
        };
        typed.finish(check)
    }

    fn read_code(&self, typed: &mut Typed) -> Option<CheckCode> {
        let code = self.code.trim();
        if code.is_empty() {
            typed.refuse("code", "Code is empty. Give a short one, such as wc_seat_firm.");
            return None;
        }
        code.parse()
            .map_err(|error| typed.refuse("code", format!("{error}.")))
            .ok()
    }

    fn read_answer(&self, typed: &mut Typed) -> Option<Answer> {
        match self.answer.trim() {
            "" | "verdict" => Some(Answer::Verdict {
                pass: typed.needed("pass", "What passes", &self.pass, 120),
                fail: typed.needed("fail", "What fails", &self.fail, 120),
            }),
            "reading" => {
                let of = typed.needed("reading_of", "What is read", &self.reading_of, 80);
                let unit = Unit::from_code(self.unit.trim())
                    .map_err(|sentence| typed.refuse("unit", sentence))
                    .ok()?;
                Some(Answer::Reading {
                    of,
                    unit,
                    limits: self.read_limits(typed, unit),
                })
            }
            other => {
                typed.refuse(
                    "answer",
                    format!("“{other}” is not a kind of answer; it is one of verdict, reading."),
                );
                None
            }
        }
    }

    fn read_limits(&self, typed: &mut Typed, unit: Unit) -> Vec<Limit> {
        let mut limits = Vec::new();
        for line in self.limits.lines().map(str::trim).filter(|line| !line.is_empty()) {
            match read_limit(line, unit) {
                Ok(limit) => limits.push(limit),
                Err(sentence) => typed.refuse("limits", sentence),
            }
        }
        limits
    }

    fn read_minutes(&self, typed: &mut Typed) -> f64 {
        let text = self.minutes.trim().replace(',', ".");
        match text.parse::<f64>() {
            Ok(minutes) if minutes > 0.0 && minutes <= MOST_MINUTES => minutes,
            _ => {
                typed.refuse(
                    "minutes",
                    format!(
                        "Minutes “{text}” can't be planned. Give more than 0 and at most 480, such as 1.5."
                    ),
                );
                1.0
            }
        }
    }

    fn read_conditions(&self, typed: &mut Typed, before: Option<&Check>) -> Conditions {
        let years = typed.whole(
            "building_age_years",
            "Age of the building",
            &self.building_age_years,
            1..=300,
        );
        let known = before.and_then(|check| check.conditions.building_age.clone());
        let building_age = years
            .and_then(|years| u16::try_from(years).ok())
            .map(|at_least_years| {
                known
                    .filter(|age| age.at_least_years == at_least_years)
                    .unwrap_or_else(|| BuildingAge {
                        at_least_years,
                        source: Source::common_practice(),
                    })
            });
        Conditions {
            building_age,
            base_joint: codes::<BaseJoint>(typed, "base_joint", &self.base_joint),
        }
    }
}

fn optional(typed: &mut Typed, field: &str, given: &str) -> Option<Severity> {
    let text = given.trim();
    (!text.is_empty()).then(|| typed.choice(field, text, Severity::Moderate))
}

/// `at_least 15 in | IPC 405.3.1 | ipc ada`.
fn limit_text(limit: &Limit) -> String {
    let profiles: Vec<&str> = limit.profiles.iter().map(ProfileCode::as_str).collect();
    let said = format!("{} {}", limit.bound.code(), limit.value);
    match (source_text(&limit.source).as_str(), profiles.is_empty()) {
        ("", true) => said,
        (source, true) => format!("{said} | {source}"),
        (source, false) => format!("{said} | {source} | {}", profiles.join(" ")),
    }
}

fn read_limit(line: &str, unit: Unit) -> Result<Limit, String> {
    let mut fields = line.split('|').map(str::trim);
    let said = fields.next().unwrap_or_default();
    let Some((bound, value)) = said.split_once(char::is_whitespace) else {
        return Err(format!(
            "Limit “{line}” says too little. Write it as at_least 15 in, or at_most 80 psi."
        ));
    };
    let bound = Bound::from_code(bound)?;
    let value = value.trim();
    if !value.ends_with(|c: char| c.is_alphabetic() || c == '%' || c.is_ascii_digit())
        || !value.contains(char::is_alphabetic) && !value.ends_with('%')
    {
        return Err(format!(
            "Limit “{value}” has no unit. Write it with one, such as {value} {}.",
            unit.code()
        ));
    }
    Amount::parse(value, unit).map_err(|error| format!("{error}."))?;
    let source = read_source(fields.next().unwrap_or_default());
    let profiles = fields
        .next()
        .unwrap_or_default()
        .split_whitespace()
        .map(|code| code.parse::<ProfileCode>().map_err(|error| format!("{error}.")))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(Limit {
        bound,
        value: value.to_owned(),
        source,
        profiles,
    })
}

/// Common practice without a word is left empty.
fn source_text(source: &Source) -> String {
    if *source == Source::common_practice() {
        String::new()
    } else {
        source.phrase()
    }
}

/// Reads what [`Source::phrase`] writes; anything else is the name of a publication.
fn read_source(text: &str) -> Source {
    let text = text.trim();
    let (standing, citation) =
        if text.is_empty() || text == "common practice" || text == "common practice, no source" {
            (Standing::CommonPractice, "")
        } else if let Some(said) = text.strip_prefix("common practice: ") {
            (Standing::CommonPractice, said)
        } else if let Some(said) = text.strip_prefix("computed: ") {
            (Standing::Computed, said)
        } else if text == "from memory" {
            (Standing::FromMemory, "")
        } else if let Some(said) = text.strip_suffix(", from memory") {
            (Standing::FromMemory, said)
        } else {
            (Standing::Published, text)
        };
    Source {
        standing,
        citation: citation.to_owned(),
    }
}

fn codes_of<T: Coded>(values: &[T]) -> Vec<String> {
    values.iter().map(|value| value.code().to_owned()).collect()
}

fn codes<T: Coded + PartialEq>(typed: &mut Typed, field: &str, list: &[String]) -> Vec<T> {
    let mut read = Vec::new();
    for word in list.iter().flat_map(|text| text.split_whitespace()) {
        match T::from_code(word) {
            Ok(value) if !read.contains(&value) => read.push(value),
            Ok(_) => {}
            Err(sentence) => typed.refuse(field, sentence),
        }
    }
    read
}
