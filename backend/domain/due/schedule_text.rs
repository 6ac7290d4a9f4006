//! A schedule as typed, in a form, a file or a command, and what it means once every field was read.
//!
//! It decides which words make a schedule and says of each field what is wrong with it. It does not know where checks, buildings and
//! people come from: they are handed in.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::book::Book;
use super::schedule::{Schedule, Scope, Terms, pack_code, pack_from_code};
use super::timing::{Anchor, LONGEST_DAYS, Timing, TimingError};
use crate::domain::code::Coded;
use crate::domain::field::FieldError;
use crate::domain::recurrence::{Interval, Rule};
use crate::domain::register::typed::{Typed, iso_date};
use crate::domain::register::{CheckId, PersonId};
use crate::domain::trade::CheckCode;
use crate::domain::trade::catalogue::Pack;

/// The oldest age a scope can name, years.
pub const OLDEST_YEARS: i64 = 200;

/// A schedule as typed. Lists hold codes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ScheduleText {
    /// Short code, field `code`.
    pub code: String,
    /// Name, field `name`.
    pub name: String,
    /// Pack, field `pack`; empty for the one it has, `own` for a new one.
    pub pack: String,
    /// `yes` or `no`, field `active`; empty for no.
    pub active: String,
    /// `yes` or `no`, field `recorded_only`; empty for no.
    pub recorded_only: String,
    /// `calendar` or `last_done`, field `anchor`; empty for `last_done`.
    pub anchor: String,
    /// RFC 5545 rule text or ISO 8601 interval, field `rule`.
    pub rule: String,
    /// First day of a calendar rule, field `start`.
    pub start: String,
    /// Field `lead_days`.
    pub lead_days: String,
    /// Field `grace_days`.
    pub grace_days: String,
    /// Field `early_days`; empty for half the shortest gap.
    pub early_days: String,
    /// Codes of checks, field `checks`.
    pub checks: Vec<String>,
    /// Codes of kinds, field `scope_kinds`.
    pub scope_kinds: Vec<String>,
    /// Codes of parts, field `scope_parts`.
    pub scope_parts: Vec<String>,
    /// Codes of buildings, field `scope_buildings`.
    pub scope_buildings: Vec<String>,
    /// Tag labels, field `scope_tags`.
    pub scope_tags: Vec<String>,
    /// Whole years, field `scope_min_age_years`.
    pub scope_min_age_years: String,
    /// Whole years, field `scope_max_age_years`.
    pub scope_max_age_years: String,
    /// Mail address, field `technician`; empty for the building's technician.
    pub technician: String,
}

/// What a schedule may refer to.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// Checks and schedules.
    pub book: &'a Book,
    /// Codes of the buildings.
    pub buildings: &'a BTreeSet<String>,
    /// Technicians by mail address.
    pub technicians: &'a BTreeMap<String, PersonId>,
}

impl ScheduleText {
    /// A schedule as a form or a file shows it.
    #[must_use]
    pub fn of(terms: &Terms, known: &Known<'_>) -> Self {
        let (timing, scope) = (&terms.timing, &terms.scope);
        let technician = known
            .technicians
            .iter()
            .find(|(_, person)| Some(**person) == terms.technician);
        let yes_or_no = |is: bool| if is { "yes" } else { "no" }.to_owned();
        let years = |years: Option<u16>| years.map(|years| years.to_string()).unwrap_or_default();
        Self {
            code: terms.code.clone(),
            name: terms.name.clone(),
            pack: pack_code(terms.pack).to_owned(),
            active: yes_or_no(terms.active),
            recorded_only: yes_or_no(terms.recorded_only),
            anchor: timing.anchor().code().to_owned(),
            rule: timing.anchor().text(),
            start: match timing.anchor() {
                Anchor::Calendar(rule) => rule.start().to_string(),
                Anchor::LastDone(_) => String::new(),
            },
            lead_days: timing.lead_days().to_string(),
            grace_days: timing.grace_days().to_string(),
            early_days: match timing.anchor() {
                Anchor::Calendar(_) => timing.early_days().to_string(),
                Anchor::LastDone(_) => String::new(),
            },
            checks: terms
                .checks
                .iter()
                .filter_map(|id| known.book.check(*id))
                .map(|asked| asked.check.code.as_str().to_owned())
                .collect(),
            scope_kinds: scope.kinds.iter().map(|kind| kind.code().to_owned()).collect(),
            scope_parts: scope.parts.iter().map(|part| part.code().to_owned()).collect(),
            scope_buildings: scope.buildings.clone(),
            scope_tags: scope.tags.clone(),
            scope_min_age_years: years(scope.min_age_years),
            scope_max_age_years: years(scope.max_age_years),
            technician: technician.map(|(email, _)| email.clone()).unwrap_or_default(),
        }
    }

    /// Reads what was typed; `before` is the schedule that it changes.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`ScheduleText`].
    pub fn read(&self, known: &Known<'_>, before: Option<&Schedule>) -> Result<Terms, Vec<FieldError>> {
        let mut typed = Typed::new();
        let pack = self.read_pack(&mut typed, before);
        let code = self.read_code(&mut typed, known, before);
        let name = typed.needed("name", "Name", &self.name, 80);
        let timing = self.read_timing(&mut typed);
        let scope = self.read_scope(&mut typed, known);
        let checks = self.read_checks(&mut typed, known, before, pack);
        reaches_something(&mut typed, known, &scope, &checks);
        let technician = self.read_technician(&mut typed, known);
        let (active, recorded_only) = (
            yes(&mut typed, "active", &self.active),
            yes(&mut typed, "recorded_only", &self.recorded_only),
        );
        let Some(timing) = timing else {
            return Err(typed.finish(()).err().unwrap_or_default());
        };
        typed.finish(Terms {
            code,
            name,
            pack,
            active,
            recorded_only,
            timing,
            scope,
            checks,
            technician,
        })
    }

    fn read_pack(&self, typed: &mut Typed, before: Option<&Schedule>) -> Option<Pack> {
        let kept = before.and_then(|schedule| schedule.terms.pack);
        match self.pack.trim() {
            "" => kept,
            text => pack_from_code(text).unwrap_or_else(|sentence| {
                typed.refuse("pack", sentence);
                kept
            }),
        }
    }

    fn read_code(&self, typed: &mut Typed, known: &Known<'_>, before: Option<&Schedule>) -> String {
        let code = self.code.trim();
        if code.is_empty() {
            typed.refuse("code", "Code is empty. Give a short one, such as yearly_hoses.");
        } else if let Err(error) = code.parse::<CheckCode>() {
            typed.refuse("code", format!("{error}."));
        }
        let taken = known
            .book
            .schedules()
            .any(|schedule| schedule.terms.code == code && Some(schedule.id) != before.map(|known| known.id));
        if taken {
            typed.refuse(
                "code",
                format!("Schedule {code} is there already. Choose another code."),
            );
        }
        code.to_owned()
    }

    fn read_timing(&self, typed: &mut Typed) -> Option<Timing> {
        let days = 0..=i64::from(LONGEST_DAYS);
        let mut whole = |field: &str, label: &str, text: &str| {
            typed
                .whole(field, label, text, days.clone())
                .and_then(|days| u32::try_from(days).ok())
        };
        let lead_days = whole("lead_days", "Days of lead", &self.lead_days).unwrap_or(0);
        let grace_days = whole("grace_days", "Days of grace", &self.grace_days).unwrap_or(0);
        let early_days = whole("early_days", "Early days", &self.early_days);
        let anchor = self.read_anchor(typed)?;
        match Timing::new(anchor, lead_days, grace_days, early_days) {
            Ok(timing) => Some(timing),
            Err(error) => {
                let field = match &error {
                    TimingError::Overlap { .. } => "lead_days",
                    TimingError::EarlyBelowLead { .. } | TimingError::TooLong { .. } => "early_days",
                };
                typed.refuse(field, format!("{error}."));
                None
            }
        }
    }

    fn read_anchor(&self, typed: &mut Typed) -> Option<Anchor> {
        let rule = self.rule.trim();
        if rule.is_empty() {
            typed.refuse(
                "rule",
                "Rule is empty. Give an interval such as P1Y, or a calendar rule such as FREQ=YEARLY.",
            );
            return None;
        }
        let read = match self.anchor.trim() {
            "" | "last_done" => rule
                .parse::<Interval>()
                .map(Anchor::LastDone)
                .map_err(|error| error.to_string()),
            "calendar" => Rule::parse(rule, self.read_start(typed)?)
                .map(Anchor::Calendar)
                .map_err(|error| error.to_string()),
            other => {
                typed.refuse(
                    "anchor",
                    format!("“{other}” is not an anchor; it is one of calendar, last_done."),
                );
                return None;
            }
        };
        read.map_err(|error| typed.refuse("rule", format!("{error}.")))
            .ok()
    }

    fn read_start(&self, typed: &mut Typed) -> Option<NaiveDate> {
        let text = self.start.trim();
        let start = iso_date(text);
        if start.is_none() {
            typed.refuse(
                "start",
                if text.is_empty() {
                    "First day is empty. A calendar rule needs the day it starts, such as 2026-10-01."
                        .to_owned()
                } else {
                    format!("First day “{text}” is not a date. Write year-month-day, such as 2026-10-01.")
                },
            );
        }
        start
    }

    fn read_scope(&self, typed: &mut Typed, known: &Known<'_>) -> Scope {
        let kinds = codes(typed, "scope_kinds", &self.scope_kinds);
        let parts = codes(typed, "scope_parts", &self.scope_parts);
        let buildings = upper(&self.scope_buildings);
        if let Some(unknown) = buildings.iter().find(|code| !known.buildings.contains(*code)) {
            typed.refuse(
                "scope_buildings",
                format!(
                    "There is no building {unknown}. Name one that is there, or leave the list empty for all."
                ),
            );
        }
        let tags = upper(&self.scope_tags);
        let mut age = |field: &str, label: &str, text: &str| {
            typed
                .whole(field, label, text, 0..=OLDEST_YEARS)
                .and_then(|years| u16::try_from(years).ok())
        };
        let min_age_years = age("scope_min_age_years", "Youngest age", &self.scope_min_age_years);
        let max_age_years = age("scope_max_age_years", "Oldest age", &self.scope_max_age_years);
        if let (Some(min), Some(max)) = (min_age_years, max_age_years)
            && min > max
        {
            typed.refuse(
                "scope_max_age_years",
                format!("Nothing is at least {min} and at most {max} years old. Make the oldest age at least {min}."),
            );
        }
        Scope {
            kinds,
            parts,
            buildings,
            tags,
            min_age_years,
            max_age_years,
        }
    }

    fn read_checks(
        &self,
        typed: &mut Typed,
        known: &Known<'_>,
        before: Option<&Schedule>,
        pack: Option<Pack>,
    ) -> Vec<CheckId> {
        let mut checks: Vec<CheckId> = Vec::new();
        for code in words(&self.checks) {
            let Some(asked) = known.book.check_by_code(code) else {
                typed.refuse(
                    "checks",
                    format!("There is no check {code}. Name one that is there, or add it first."),
                );
                continue;
            };
            let is_new = before.is_none_or(|schedule| !schedule.terms.checks.contains(&asked.id));
            if is_new && !asked.active {
                typed.refuse(
                    "checks",
                    format!("Check {code} was withdrawn. Offer it again first, or leave it out."),
                );
            }
            if is_new && asked.check.off_until_chosen && !matches!(pack, None | Some(Pack::Chosen)) {
                typed.refuse(
                    "checks",
                    format!("Check {code} is off until chosen. Ask for it in a schedule of your own, or switch on the one that is there for it."),
                );
            }
            if !checks.contains(&asked.id) {
                checks.push(asked.id);
            }
        }
        if words(&self.checks).next().is_none() {
            typed.refuse("checks", "No check is named. Choose what is to be done.");
        }
        checks.sort();
        checks
    }

    fn read_technician(&self, typed: &mut Typed, known: &Known<'_>) -> Option<PersonId> {
        let email = self.technician.trim().to_lowercase();
        if email.is_empty() {
            return None;
        }
        let found = known.technicians.get(&email).copied();
        if found.is_none() {
            typed.refuse(
                "technician",
                format!("There is no technician {email}. Choose one of the people, or leave it empty for the building's."),
            );
        }
        found
    }
}

/// Every check must be asked of something that the scope reaches.
fn reaches_something(typed: &mut Typed, known: &Known<'_>, scope: &Scope, checks: &[CheckId]) {
    for asked in checks.iter().filter_map(|id| known.book.check(*id)) {
        let check = &asked.check;
        let reached = check.kinds.iter().any(|kind| {
            if check.parts.is_empty() {
                scope.reaches(*kind, None)
            } else {
                check.parts.iter().any(|part| scope.reaches(*kind, Some(*part)))
            }
        });
        if !reached {
            let field = if scope.parts.is_empty() {
                "scope_kinds"
            } else {
                "scope_parts"
            };
            typed.refuse(
                field,
                format!(
                    "Check {} is asked of nothing in this scope. Widen the scope, or take the check out.",
                    check.code
                ),
            );
        }
    }
}

fn yes(typed: &mut Typed, field: &str, given: &str) -> bool {
    match given.trim().to_lowercase().as_str() {
        "yes" | "true" | "on" | "1" => true,
        "" | "no" | "false" | "off" | "0" => false,
        other => {
            typed.refuse(
                field,
                format!("“{other}” is neither yes nor no. Write yes or no."),
            );
            false
        }
    }
}

fn words(list: &[String]) -> impl Iterator<Item = &str> {
    list.iter().flat_map(|text| text.split_whitespace())
}

fn upper(list: &[String]) -> Vec<String> {
    words(list).map(str::to_uppercase).collect()
}

fn codes<T: Coded + PartialEq>(typed: &mut Typed, field: &str, list: &[String]) -> Vec<T> {
    let mut read = Vec::new();
    for word in words(list) {
        match T::from_code(word) {
            Ok(value) if !read.contains(&value) => read.push(value),
            Ok(_) => {}
            Err(sentence) => typed.refuse(field, sentence),
        }
    }
    read
}
