//! A severe deficiency that a manager lets stand at move-in, until a day. Decides what may be waived, until when, and what a waiver
//! must say. A life-threatening deficiency is never waived.

use chrono::{Days as DayCount, NaiveDate, NaiveDateTime};

use super::blocks::Days;
use crate::domain::field::FieldError;
use crate::domain::register::typed::Typed;
use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::result::Deficiency;
use crate::domain::trade::Severity;

/// The longest a waiver may run after the move-in, days.
///
/// # Source
/// Common practice, no source: a year, so that the next yearly visit lies within.
pub const LONGEST_DAYS: u64 = 366;

/// A waiver as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiver {
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Who waived; none for the command line.
    pub person: Option<PersonId>,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// What it says.
    pub facts: WaiverFacts,
}

/// A waiver as typed.
#[derive(Debug, Clone, Default)]
pub struct WaiverText {
    /// Why it may stand.
    pub reason: String,
    /// Who answers for it.
    pub name: String,
    /// Last local day.
    pub until: String,
}

/// A waiver as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WaiverFacts {
    /// Why it may stand.
    pub reason: String,
    /// Who answers for it, as signed.
    pub signed_name: String,
    /// Last local day.
    pub until_on: NaiveDate,
}

impl WaiverFacts {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`WaiverText`].
    pub fn read(text: &WaiverText, days: Days) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let first = days.move_in_on.max(days.today);
        let latest = first
            .checked_add_days(DayCount::new(LONGEST_DAYS))
            .unwrap_or(first);
        let until = if text.until.trim().is_empty() {
            typed.refuse(
                "until",
                format!("The last day of the waiver is empty. Give one, {first} or later."),
            );
            None
        } else {
            typed.date(
                "until",
                "The last day of the waiver",
                &text.until,
                latest,
                "that is more than a year after the move-in",
            )
        };
        if let Some(until) = until.filter(|until| *until < first) {
            let than = if days.move_in_on >= days.today {
                format!("the move-in on {}", days.move_in_on)
            } else {
                format!("today, {}", days.today)
            };
            typed.refuse(
                "until",
                format!("The last day of the waiver, {until}, lies before {than}. Give {first} or later."),
            );
        }
        let facts = Self {
            reason: typed.needed("reason", "Why it may stand", &text.reason, 500),
            signed_name: typed.needed("name", "Name", &text.name, 80),
            until_on: until.unwrap_or(first),
        };
        typed.finish(facts)
    }
}

impl Waiver {
    /// Whether it still lets the deficiency stand: its last day is neither past nor before the move-in.
    #[must_use]
    pub fn holds(&self, days: Days) -> bool {
        self.facts.until_on >= days.move_in_on.max(days.today)
    }
}

/// Whether a deficiency may be waived at all.
///
/// # Errors
/// A sentence that says why not.
pub fn may_be_waived(one: &Deficiency) -> Result<(), String> {
    if !one.stands() {
        return Err(format!("No. {} is closed, so there is nothing to waive.", one.id));
    }
    match one.severity {
        Severity::Severe => Ok(()),
        Severity::LifeThreatening => Err(format!(
            "No. {} is life-threatening, and that is never waived. Repair it and let its re-check pass; until then the unit stays off line.",
            one.id
        )),
        Severity::Moderate | Severity::Low => Err(format!(
            "No. {} is {}, which keeps no unit from being ready, so it needs no waiver. It stays open.",
            one.id,
            one.severity.name().to_lowercase()
        )),
    }
}
