//! What a schedule says: its timing, the checks it asks for and the fixtures in its scope.
//!
//! It decides which kinds, parts, buildings, tags and ages a schedule reaches. It does not know which
//! check belongs to which kind; that is the check's own word (see `plan`).

use chrono::{Months, NaiveDate};

use super::history::History;
use super::timing::{Anchor, Timing};
use crate::domain::code::Coded;
use crate::domain::recurrence::{Interval, Rule};
use crate::domain::register::{CheckId, PersonId, ScheduleId};
use crate::domain::trade::catalogue::Pack;
use crate::domain::trade::{FixtureKind, PartKind};

/// The fixtures a schedule reaches; every empty list reaches all.
///
/// The age is that of what is checked (the part's own when it has one, else its fixture's) on the due
/// date: for a minimum nothing is due before the day the age is reached, for a maximum nothing that would be
/// due after that day. Both bounds are inclusive. An unknown age counts as old.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Scope {
    /// Kinds of fixture.
    pub kinds: Vec<FixtureKind>,
    /// Kinds of part; where any is named, checks on the fixture itself are out of scope.
    pub parts: Vec<PartKind>,
    /// Building codes.
    pub buildings: Vec<String>,
    /// Tag labels, the same in every unit.
    pub tags: Vec<String>,
    /// At least this many years old.
    pub min_age_years: Option<u16>,
    /// At most this many years old.
    pub max_age_years: Option<u16>,
    /// Only where the check failed at least so often, 1 to [`MOST_FAILURES`], within [`FAILURE_MONTHS`] before the day it counts from, that
    /// day included.
    pub min_failures: Option<u8>,
}

/// Months before the day a check counts from within which its failures count.
pub const FAILURE_MONTHS: u32 = 24;

/// The most failures that a scope can ask for.
pub const MOST_FAILURES: usize = 4;

/// The last days on which a check failed at a place, the latest first.
pub type FailedDays = [Option<NaiveDate>; MOST_FAILURES];

impl Scope {
    /// Whether this kind of fixture, or this part of it, is in scope; building, tag and age aside.
    #[must_use]
    pub fn reaches(&self, kind: FixtureKind, part: Option<PartKind>) -> bool {
        let kind_fits = self.kinds.is_empty() || self.kinds.contains(&kind);
        let part_fits = self.parts.is_empty() || part.is_some_and(|part| self.parts.contains(&part));
        kind_fits && part_fits
    }

    /// Whether a building is in scope.
    #[must_use]
    pub fn reaches_building(&self, code: &str) -> bool {
        self.buildings.is_empty() || self.buildings.iter().any(|building| building == code)
    }

    /// Whether a tag is in scope.
    #[must_use]
    pub fn reaches_tag(&self, label: &str) -> bool {
        self.tags.is_empty() || self.tags.iter().any(|tag| tag == label)
    }

    /// The first day the minimum age allows, for something installed on this day.
    #[must_use]
    pub fn first_day_of_age(&self, installed_on: Option<NaiveDate>) -> Option<NaiveDate> {
        Some(years_after(installed_on?, self.min_age_years?))
    }

    /// Whether a check with this history failed often enough before the day that it counts from.
    #[must_use]
    pub fn failed_enough(&self, failed: &FailedDays, history: &History) -> bool {
        let Some(least) = self.min_failures else {
            return true;
        };
        let (_, counts_from) = history.counts_from();
        let since = counts_from
            .checked_sub_months(Months::new(FAILURE_MONTHS))
            .unwrap_or(NaiveDate::MIN);
        let counted = failed
            .iter()
            .flatten()
            .filter(|day| **day > since && **day <= counts_from);
        counted.count() >= usize::from(least)
    }

    /// Whether the maximum age allows a due date, for something installed on this day.
    #[must_use]
    pub fn allows_age_on(&self, due: NaiveDate, installed_on: Option<NaiveDate>) -> bool {
        self.max_age_years.is_none_or(|years| {
            installed_on.is_some_and(|installed_on| due <= years_after(installed_on, years))
        })
    }
}

/// The same day so many years later; 29 February becomes the 28th where there is none.
pub(super) fn years_after(day: NaiveDate, years: u16) -> NaiveDate {
    day.checked_add_months(Months::new(u32::from(years) * 12))
        .unwrap_or(NaiveDate::MAX)
}

/// What somebody decides about a schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Terms {
    /// Short code, unique.
    pub code: String,
    /// As shown.
    pub name: String,
    /// The catalogue pack it came with; none for the users' own.
    pub pack: Option<Pack>,
    /// Whether it asks for anything.
    pub active: bool,
    /// Whether results are only recorded: then it makes nothing due.
    pub recorded_only: bool,
    /// When.
    pub timing: Timing,
    /// On what.
    pub scope: Scope,
    /// The checks it asks for, each once.
    pub checks: Vec<CheckId>,
    /// Who does it; the building's technician when none is named.
    pub technician: Option<PersonId>,
}

impl Terms {
    /// Whether it makes anything due.
    #[must_use]
    pub fn asks(&self) -> bool {
        self.active && !self.recorded_only
    }

    /// Whether naming a check that is off until chosen is the choosing of it: the users' own schedules, and
    /// those of the pack that is there to be chosen.
    #[must_use]
    pub fn chooses(&self) -> bool {
        matches!(self.pack, None | Some(Pack::Chosen))
    }
}

/// A stored schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// Its key.
    pub id: ScheduleId,
    /// Counts its changes, from 1.
    pub version: u32,
    /// What it says.
    pub terms: Terms,
}

/// The word for where a schedule came from: the pack's code, or `own`.
#[must_use]
pub fn pack_code(pack: Option<Pack>) -> &'static str {
    pack.map_or("own", Pack::code)
}

/// The pack with this code; none for `own`.
///
/// # Errors
/// A sentence that names the codes that exist.
pub fn pack_from_code(code: &str) -> Result<Option<Pack>, String> {
    if code == "own" {
        return Ok(None);
    }
    Pack::from_code(code).map(Some).map_err(|_unknown| {
        format!("“{code}” is not a pack; it is one of yearly, half_yearly, resident, chosen, own.")
    })
}

/// Puts a timing together from the words of a form, a file or a row. `anchor` is `calendar` or `last_done`.
///
/// # Errors
/// A sentence that says what is wrong with the rule, the interval or the window.
pub fn read_timing(
    anchor: &str,
    rule: &str,
    start: Option<NaiveDate>,
    lead_days: u32,
    grace_days: u32,
    early_days: Option<u32>,
) -> Result<Timing, String> {
    let anchor = match (anchor, start) {
        ("calendar", Some(start)) => {
            Anchor::Calendar(Rule::parse(rule, start).map_err(|error| error.to_string())?)
        }
        ("calendar", None) => {
            return Err(format!(
                "The calendar rule {rule} has no first day. Give the day it starts, such as 2026-10-01."
            ));
        }
        ("last_done", _) => Anchor::LastDone(rule.parse::<Interval>().map_err(|error| error.to_string())?),
        (other, _) => {
            return Err(format!(
                "“{other}” is not an anchor; it is one of calendar, last_done."
            ));
        }
    };
    Timing::new(anchor, lead_days, grace_days, early_days).map_err(|error| error.to_string())
}
