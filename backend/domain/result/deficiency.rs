//! A deficiency: what is wrong, how grave, until when it must be right, who sees to it. Decides its states and what may follow which;
//! knows no page and no clock.

use chrono::{NaiveDateTime, TimeDelta};

use crate::domain::code::words;
use crate::domain::register::{
    BuildingId, CheckId, DeficiencyId, FixtureId, PersonId, ResultId, TagId, UnitId,
};
use crate::domain::trade::{Check, FixtureKind, PartKind, Severity};

words! {
    /// Where a deficiency stands.
    DeficiencyStatus "status" {
        Open = "open", "Open";
        Repaired = "repaired", "Repaired, to re-check";
        Closed = "closed", "Closed";
    }
}

words! {
    /// What opened it.
    Origin "source" {
        Result = "result", "A failed check";
        Report = "report", "A resident's report";
    }
}

words! {
    /// How it was closed.
    ClosedHow "way of closing" {
        Recheck = "recheck", "Passed the re-check";
        Replaced = "replaced", "Replaced, and the new one passed";
    }
}

words! {
    /// What happened to it.
    EventKind "event" {
        Opened = "opened", "Opened";
        FailedAgain = "failed_again", "Failed again";
        Assigned = "assigned", "Assigned";
        Repaired = "repaired", "Repaired";
        RecheckPassed = "recheck_passed", "Re-check passed";
        Closed = "closed", "Closed";
        Missed = "missed", "Could not be re-checked";
        Moved = "moved", "Moved";
        Noted = "noted", "Note";
    }
}

/// A deficiency as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Deficiency {
    /// Key, also its number for people.
    pub id: DeficiencyId,
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// At which place; none when a report names none.
    pub tag: Option<TagId>,
    /// What stood there then.
    pub fixture: Option<FixtureId>,
    /// Which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check failed; none for a report.
    pub check: Option<CheckId>,
    /// The result that opened it.
    pub result: Option<ResultId>,
    /// What opened it.
    pub origin: Origin,
    /// What is wrong, in one line.
    pub title: String,
    /// Free text.
    pub detail: String,
    /// How grave.
    pub severity: Severity,
    /// How grave by what failed alone; a repeat may make it graver. The published score weighs this one.
    pub own_severity: Severity,
    /// UTC; the notification from which the time to correct runs.
    pub opened_at: NaiveDateTime,
    /// UTC; none when the programme sets no deadline.
    pub correct_by: Option<NaiveDateTime>,
    /// The technician who repairs it.
    pub assignee: Option<PersonId>,
    /// The licensed vendor who repairs it, empty when none.
    pub vendor: String,
    /// Where it stands.
    pub status: DeficiencyStatus,
    /// UTC.
    pub repaired_at: Option<NaiveDateTime>,
    /// Parts used, free text.
    pub parts_used: String,
    /// Work, minutes.
    pub minutes: Option<f64>,
    /// Cost in minor units of money.
    pub cost_minor: Option<i64>,
    /// UTC.
    pub closed_at: Option<NaiveDateTime>,
    /// How it was closed.
    pub closed_how: Option<ClosedHow>,
    /// The closed one it repeats within twelve months.
    pub repeats: Option<DeficiencyId>,
}

impl Deficiency {
    /// Whether it is not closed.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.status != DeficiencyStatus::Closed
    }

    /// Whether a check can be asked again of what stands at its place now: a fixture of this kind with these parts in service. What no
    /// check asks again is looked at and said in words.
    #[must_use]
    pub fn is_asked_again(&self, check: &Check, kind: FixtureKind, parts: &[PartKind]) -> bool {
        self.part.is_none_or(|part| parts.contains(&part)) && check.is_asked_of(kind, self.part)
    }

    /// How much time is left at `now`; below zero when the deadline has passed, none when closed or without a deadline.
    #[must_use]
    pub fn time_left(&self, now: NaiveDateTime) -> Option<TimeDelta> {
        if self.stands() {
            self.correct_by.map(|by| by - now)
        } else {
            None
        }
    }
}

/// The earlier of two deadlines, where none means no deadline.
#[must_use]
pub fn earlier(one: Option<NaiveDateTime>, other: Option<NaiveDateTime>) -> Option<NaiveDateTime> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (Some(only), None) | (None, Some(only)) => Some(only),
        (None, None) => None,
    }
}

/// Time left in words: "5 h left", "29 days left", "2 h over", "30 min left". Under two days it is told in hours, under two hours in
/// minutes; parts are cut off, so that nobody is promised more time than there is.
///
/// ```
/// use anglestop::domain::result::deficiency::time_in_words;
/// use chrono::TimeDelta;
/// assert_eq!(time_in_words(TimeDelta::hours(24)), "24 h left");
/// assert_eq!(time_in_words(TimeDelta::minutes(119)), "119 min left");
/// assert_eq!(time_in_words(TimeDelta::hours(-3)), "3 h over");
/// assert_eq!(time_in_words(TimeDelta::days(30)), "30 days left");
/// assert_eq!(time_in_words(TimeDelta::zero()), "due now");
/// ```
#[must_use]
pub fn time_in_words(left: TimeDelta) -> String {
    let side = if left < TimeDelta::zero() { "over" } else { "left" };
    let span = left.abs();
    if span.num_minutes() == 0 {
        "due now".to_owned()
    } else if span.num_minutes() < 120 {
        format!("{} min {side}", span.num_minutes())
    } else if span.num_hours() < 48 {
        format!("{} h {side}", span.num_hours())
    } else {
        format!("{} days {side}", span.num_days())
    }
}
