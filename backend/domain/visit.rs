//! A visit: one entry into one unit on one day by one technician, with the checks and repairs it serves. Decides its states, the reasons
//! for no access and how early a household may be entered; knows no page and no clock.

use chrono::{NaiveDate, NaiveDateTime, TimeDelta, Timelike as _};
use chrono_tz::Tz;

use crate::domain::code::words;
use crate::domain::register::{
    BuildingId, CheckId, DeficiencyId, FixtureId, Occupancy, PersonId, UnitFacts, UnitId, UnitKind, VisitId,
};
use crate::domain::trade::PartKind;

words! {
    /// How a visit went.
    VisitStatus "state of a visit" {
        Planned = "planned", "Planned";
        Done = "done", "Done";
        NoAccess = "no_access", "No access";
        Cancelled = "cancelled", "Cancelled";
    }
}

words! {
    /// A reason for no access that is offered beside free text.
    NoAccessReason "reason for no access" {
        NobodyHome = "nobody_home", "Nobody at home";
        Refused = "refused", "Entry refused";
        Key = "key", "The key does not fit or is not there";
        ChildAlone = "child_alone", "Only a child at home";
        Animal = "animal", "An animal loose inside";
        Alarm = "alarm", "An alarm is set";
        Unsafe = "unsafe", "Not safe to enter";
    }
}

/// What a visit serves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Service {
    /// A check on a fixture, or on a part of it.
    Check {
        /// On which fixture.
        fixture: FixtureId,
        /// Of which part; none for the fixture itself.
        part: Option<PartKind>,
        /// Which check.
        check: CheckId,
    },
    /// The repair or the re-check of a deficiency.
    Repair(DeficiencyId),
}

/// A visit as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// Key.
    pub id: VisitId,
    /// In which building.
    pub building: BuildingId,
    /// Into which unit.
    pub unit: UnitId,
    /// Local date.
    pub on_date: NaiveDate,
    /// Who goes; none while nobody is named.
    pub technician: Option<PersonId>,
    /// How it went.
    pub status: VisitStatus,
    /// Why there was no access, or why it was cancelled; empty otherwise.
    pub reason: String,
    /// Free text.
    pub note: String,
    /// UTC.
    pub created_at: NaiveDateTime,
    /// UTC; none while it is planned.
    pub closed_at: Option<NaiveDateTime>,
}

/// How far ahead a visit can be planned, days: a year and the window of a yearly check.
pub const FARTHEST_DAYS: i64 = 400;

/// Whether notice has to be given before somebody enters: a household lives there.
#[must_use]
pub fn needs_notice(unit: &UnitFacts) -> bool {
    unit.kind == UnitKind::Unit && unit.occupancy == Occupancy::Occupied
}

/// The first local minute at which a unit may be entered when notice is given at `now` (UTC); seconds count as the next minute.
///
/// ```
/// use anglestop::domain::visit::earliest_entry;
/// let now = "2026-11-25T16:00:00".parse()?;
/// let earliest = earliest_entry(now, 24, chrono_tz::America::Chicago);
/// assert_eq!(earliest, "2026-11-26T10:00:00".parse()?);
/// # Ok::<(), chrono::ParseError>(())
/// ```
#[must_use]
pub fn earliest_entry(now: NaiveDateTime, notice_hours: i64, zone: Tz) -> NaiveDateTime {
    let earliest = now + TimeDelta::hours(notice_hours);
    let started = earliest.second() > 0 || earliest.nanosecond() > 0;
    let minute = earliest
        .with_second(0)
        .and_then(|minute| minute.with_nanosecond(0))
        .unwrap_or(earliest);
    let minute = minute + TimeDelta::minutes(i64::from(started));
    minute.and_utc().with_timezone(&zone).naive_local()
}

/// The reason as it is kept: the offered one in words, the free text, or both. `offered` is a code of [`NoAccessReason`] or empty.
///
/// ```
/// use anglestop::domain::visit::no_access_reason;
/// assert_eq!(no_access_reason("nobody_home", "knocked twice"), "Nobody at home: knocked twice");
/// assert_eq!(no_access_reason("", "stair blocked"), "stair blocked");
/// assert_eq!(no_access_reason("", " "), "");
/// ```
#[must_use]
pub fn no_access_reason(offered: &str, text: &str) -> String {
    use crate::domain::code::Coded as _;
    let text = text.trim();
    match NoAccessReason::from_code(offered.trim()) {
        Err(_) => text.to_owned(),
        Ok(reason) if text.is_empty() => reason.name().to_owned(),
        Ok(reason) => format!("{}: {text}", reason.name()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notice_runs_on_the_clock_of_the_building_over_a_change_of_time() {
        // Clocks in Chicago go back on 1 Nov 2026 at 02:00: 24 hours after noon is 11:00.
        let now = "2026-10-31T17:00:00".parse().unwrap_or_default();
        let earliest = earliest_entry(now, 24, chrono_tz::America::Chicago);
        assert_eq!(earliest.to_string(), "2026-11-01 11:00:00");
    }

    #[test]
    fn a_begun_minute_counts_as_the_next() {
        let now = "2026-11-25T16:00:01".parse().unwrap_or_default();
        let earliest = earliest_entry(now, 0, Tz::UTC);
        assert_eq!(earliest.to_string(), "2026-11-25 16:01:00");
    }
}
