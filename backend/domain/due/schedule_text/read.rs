//! Reads a schedule field by field. It decides which words make one, and says of each field what is wrong with it and what to do.

use chrono::NaiveDate;

use super::{Known, OLDEST_YEARS, ScheduleText};
use crate::domain::code::Coded;
use crate::domain::due::moving::{Moving, OnClosedDays, Season};
use crate::domain::due::schedule::{MOST_FAILURES, Schedule, Scope, Terms, pack_from_code};
use crate::domain::due::tenancy::Vacancy;
use crate::domain::due::timing::{Anchor, LONGEST_DAYS, Timing, TimingError};
use crate::domain::field::FieldError;
use crate::domain::recurrence::{Interval, Rule};
use crate::domain::register::typed::{Typed, iso_date};
use crate::domain::register::{CheckId, PersonId};
use crate::domain::trade::CheckCode;
use crate::domain::trade::catalogue::Pack;

impl ScheduleText {
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
        let moving = self.read_moving(typed);
        let anchor = self.read_anchor(typed)?;
        let timing = Timing::new(anchor, lead_days, grace_days, early_days);
        match timing.and_then(|timing| timing.moved_by(moving)) {
            Ok(timing) => Some(timing),
            Err(error) => {
                let field = match &error {
                    TimingError::Overlap { .. } => "lead_days",
                    TimingError::SeasonOfCalendar => "season_months",
                    TimingError::EarlyBelowLead { .. } | TimingError::TooLong { .. } => "early_days",
                };
                typed.refuse(field, format!("{error}."));
                None
            }
        }
    }

    fn read_moving(&self, typed: &mut Typed) -> Moving {
        let on_closed_days = typed.choice("on_closed_days", &self.on_closed_days, OnClosedDays::Stays);
        let mut months = Vec::new();
        for word in words(&self.season_months) {
            let month = typed.whole("season_months", "A month", word, 1..=12);
            months.extend(month.and_then(|month| u32::try_from(month).ok()));
        }
        Moving {
            on_closed_days,
            season: Season::of(months),
            vacancy: typed.choice("vacancy", &self.vacancy, Vacancy::Any),
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
        let most = i64::try_from(MOST_FAILURES).unwrap_or(1);
        let min_failures = typed
            .whole(
                "scope_min_failures",
                "Failures",
                &self.scope_min_failures,
                1..=most,
            )
            .and_then(|failures| u8::try_from(failures).ok());
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
            min_failures,
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
