//! A schedule as typed, in a form, a file or a command, and what it means once every field was read ([`ScheduleText::read`]).
//!
//! It decides the fields. It does not know where checks, buildings and people come from: they are handed in.

mod read;

use std::collections::{BTreeMap, BTreeSet};

use super::book::Book;
use super::schedule::{Terms, pack_code};
use super::timing::Anchor;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;

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
    /// Whole number, field `scope_min_failures`; empty for any history.
    pub scope_min_failures: String,
    /// Code of what a due date does on a closed day, field `on_closed_days`; empty for staying.
    pub on_closed_days: String,
    /// Months by number, field `season_months`; empty for the whole year.
    pub season_months: Vec<String>,
    /// Code of what a vacant unit does, field `vacancy`; empty for any.
    pub vacancy: String,
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
            scope_min_failures: scope
                .min_failures
                .map(|failures| failures.to_string())
                .unwrap_or_default(),
            on_closed_days: timing.moving().on_closed_days.code().to_owned(),
            vacancy: timing.moving().vacancy.code().to_owned(),
            season_months: timing
                .moving()
                .season
                .iter()
                .flat_map(|season| season.months())
                .map(|month| month.to_string())
                .collect(),
            technician: technician.map(|(email, _)| email.clone()).unwrap_or_default(),
        }
    }
}
