//! When something was done: which instants can be true. Decides the latest and the earliest; knows no clock.

use std::fmt;

use chrono::{NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, TimeZone as _};
use chrono_tz::Tz;

/// How far ahead of the server another clock may run before its time is not believed, minutes.
pub const AHEAD_MINUTES: i64 = 5;

/// The fixture's place in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// The building's zone.
    pub zone: Tz,
    /// The day the building joined the register.
    pub joined_on: NaiveDate,
    /// The first day the fixture counts.
    pub stood_from: NaiveDate,
}

/// A believable instant with its local date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settled {
    /// UTC, never after the receipt.
    pub done_at: NaiveDateTime,
    /// The building's local date then.
    pub done_on: NaiveDate,
}

/// Why an instant can't be true.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DoneAtRefusal {
    /// Ahead of the server's clock by more than [`AHEAD_MINUTES`].
    Ahead {
        /// As given, on the building's clock.
        given: NaiveDateTime,
        /// Now, on the building's clock.
        now: NaiveDateTime,
    },
    /// Before the building joined.
    BeforeJoined {
        /// The local date as given.
        given: NaiveDate,
        /// The day it joined.
        joined_on: NaiveDate,
    },
    /// Before the fixture stood there.
    BeforeStood {
        /// The local date as given.
        given: NaiveDate,
        /// The first day it counts.
        stood_from: NaiveDate,
    },
}

impl fmt::Display for DoneAtRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ahead { given, now } => write!(
                f,
                "it says done at {}, but here it is {}; correct the time or the clock",
                given.format("%Y-%m-%d %H:%M"),
                now.format("%Y-%m-%d %H:%M")
            ),
            Self::BeforeJoined { given, joined_on } => write!(
                f,
                "it says done on {given}, before the building joined on {joined_on}; correct the date, or import it as last done"
            ),
            Self::BeforeStood { given, stood_from } => write!(
                f,
                "it says done on {given}, but this fixture is on record here from {stood_from}; correct one of the two dates"
            ),
        }
    }
}

impl std::error::Error for DoneAtRefusal {}

/// The instant as it is kept: one a few minutes ahead, from a clock that runs fast, becomes the time of receipt.
///
/// # Errors
/// A sentence when it lies further ahead, before the building joined, or before the fixture stood there.
pub fn settle(done_at: NaiveDateTime, now: NaiveDateTime, place: &Place) -> Result<Settled, DoneAtRefusal> {
    let local = |instant: NaiveDateTime| instant.and_utc().with_timezone(&place.zone).naive_local();
    if done_at - now > TimeDelta::minutes(AHEAD_MINUTES) {
        return Err(DoneAtRefusal::Ahead {
            given: local(done_at),
            now: local(now),
        });
    }
    let done_at = done_at.min(now);
    let done_on = local(done_at).date();
    if done_on < place.joined_on {
        return Err(DoneAtRefusal::BeforeJoined {
            given: done_on,
            joined_on: place.joined_on,
        });
    }
    if done_on < place.stood_from {
        return Err(DoneAtRefusal::BeforeStood {
            given: done_on,
            stood_from: place.stood_from,
        });
    }
    Ok(Settled { done_at, done_on })
}

/// Reads an instant as people and files write it: `2026-09-01T14:05:00Z` in UTC, `2026-09-01 14:05` on the building's clock, or only
/// `2026-09-01`, which is noon there, or now when noon is still ahead.
///
/// # Errors
/// A sentence when it can't be read, or the building's clock skipped it.
///
/// ```
/// use anglestop::domain::result::done_at::read;
/// let zone = chrono_tz::America::Chicago;
/// let now = "2026-11-25T18:00:00".parse()?;
/// assert_eq!(read("2026-11-24 14:30", zone, now)?, "2026-11-24T20:30:00".parse()?);
/// assert_eq!(read("2026-11-24", zone, now)?, "2026-11-24T18:00:00".parse()?);
/// assert_eq!(read("2026-11-24T20:30:00Z", zone, now)?, "2026-11-24T20:30:00".parse()?);
/// assert!(read("yesterday", zone, now).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read(given: &str, zone: Tz, now: NaiveDateTime) -> Result<NaiveDateTime, String> {
    let text = given.trim();
    if let Some(instant) = text.strip_suffix('Z') {
        return instant
            .parse()
            .map_err(|_unreadable| refusal(text, "is no instant"));
    }
    let on_the_clock = |local: NaiveDateTime| {
        zone.from_local_datetime(&local)
            .earliest()
            .map(|instant| instant.naive_utc())
            .ok_or_else(|| refusal(text, "was skipped when the clocks went forward"))
    };
    if let Ok(date) = text.parse::<NaiveDate>() {
        let noon = NaiveTime::from_hms_opt(12, 0, 0).unwrap_or_default();
        let is_today = now.and_utc().with_timezone(&zone).date_naive() == date;
        let noon = on_the_clock(date.and_time(noon))?;
        return Ok(if is_today { noon.min(now) } else { noon });
    }
    let local = [
        "%Y-%m-%d %H:%M",
        "%Y-%m-%dT%H:%M",
        "%Y-%m-%dT%H:%M:%S",
        "%Y-%m-%d %H:%M:%S",
    ]
    .iter()
    .find_map(|form| NaiveDateTime::parse_from_str(text, form).ok())
    .ok_or_else(|| refusal(text, "is no date with a time"))?;
    on_the_clock(local)
}

fn refusal(text: &str, what: &str) -> String {
    format!("“{text}” {what}. Write it as 2026-11-24 14:30, on the building's clock.")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap_or_default()
    }

    fn place() -> Place {
        let day = |text: &str| text.parse().unwrap_or_default();
        Place {
            zone: chrono_tz::America::Chicago,
            joined_on: day("2026-01-01"),
            stood_from: day("2026-03-01"),
        }
    }

    #[test]
    fn a_clock_that_runs_minutes_fast_is_believed_up_to_the_receipt() {
        let settled = settle(at("2026-11-25T09:05:00"), at("2026-11-25T09:00:00"), &place());
        assert_eq!(settled.map(|s| s.done_at), Ok(at("2026-11-25T09:00:00")));
    }

    #[test]
    fn six_minutes_ahead_are_not_believed() {
        let refused = settle(at("2026-11-25T09:05:01"), at("2026-11-25T09:00:00"), &place());
        assert!(refused.is_err_and(|r| r.to_string().contains("2026-11-25 03:05")));
    }

    #[test]
    fn the_day_is_the_buildings_own() {
        let settled = settle(at("2026-11-25T05:30:00"), at("2026-11-25T09:00:00"), &place());
        assert_eq!(
            settled.map(|s| s.done_on.to_string()),
            Ok("2026-11-24".to_owned())
        );
    }

    #[test]
    fn nothing_was_done_before_the_building_joined_or_the_fixture_stood() {
        let now = at("2026-11-25T09:00:00");
        let before = settle(at("2026-01-01T05:59:59"), now, &place());
        assert!(matches!(before, Err(DoneAtRefusal::BeforeJoined { .. })));
        let between = settle(at("2026-03-01T05:59:59"), now, &place());
        assert!(matches!(between, Err(DoneAtRefusal::BeforeStood { .. })));
        assert!(settle(at("2026-03-01T06:00:00"), now, &place()).is_ok());
    }
}
