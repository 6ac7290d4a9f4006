//! Where a rule ends: UNTIL as a day, a local time or an instant, and the last day it allows.
//!
//! It decides which day is the last one an occurrence may fall on. It does not know the rule.

use std::fmt;
use std::str::FromStr;

use chrono::{DateTime, Days, Duration, NaiveDate, NaiveDateTime, NaiveTime, TimeZone, Utc};
use chrono_tz::Tz;

use super::error::RuleError;

/// The three forms RFC 5545 gives UNTIL.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Until {
    /// `20301231`: the day itself is included.
    Day(NaiveDate),
    /// `20301231T090000`: the time on the clock where the rule runs.
    Local(NaiveDateTime),
    /// `20301231T090000Z`: an instant.
    Instant(NaiveDateTime),
}

impl Until {
    /// The last day on which an occurrence at `time` in `zone` is not after this end.
    ///
    /// Without a zone the clock where the rule runs is read as UTC.
    pub(super) fn last_day(self, time: NaiveTime, zone: Option<Tz>) -> NaiveDate {
        match self {
            Self::Day(day) => day,
            Self::Local(end) => latest(end.date(), |day| day.and_time(time) <= end),
            Self::Instant(end) => latest(end.date(), |day| {
                instant(day.and_time(time), zone) <= end.and_utc()
            }),
        }
    }
}

/// The latest day near `day` that `fits`; a zone moves a day by one at most.
fn latest(day: NaiveDate, fits: impl Fn(NaiveDate) -> bool) -> NaiveDate {
    let mut candidate = day + Days::new(2);
    for _ in 0..4 {
        if fits(candidate) {
            break;
        }
        candidate = candidate - Days::new(1);
    }
    candidate
}

/// The instant of a local time; a time that comes twice is the first, and one that is skipped is read
/// with the offset before the gap.
///
/// # Source
///
/// RFC 5545, 3.3.5, form 3.
fn instant(local: NaiveDateTime, zone: Option<Tz>) -> DateTime<Utc> {
    let Some(zone) = zone else { return local.and_utc() };
    // The longest gap on record is a whole day (Samoa crossed the date line in 2011).
    let before_gap = (0..=25).map(Duration::hours).find_map(|back| {
        let found = zone.from_local_datetime(&(local - back)).earliest()?;
        Some(found.with_timezone(&Utc) + back)
    });
    before_gap.unwrap_or_else(|| local.and_utc())
}

impl FromStr for Until {
    type Err = RuleError;

    fn from_str(text: &str) -> Result<Self, RuleError> {
        let refuse = || RuleError::Until(text.to_owned());
        let clock = text.strip_suffix('Z').unwrap_or(text);
        let (day, time) = match clock.split_once('T') {
            Some((day, time)) => (day, Some(time)),
            None => (clock, None),
        };
        let [year, month, of_month] = fields(day, [4, 2, 2]).ok_or_else(refuse)?;
        let date = i32::try_from(year)
            .ok()
            .and_then(|year| NaiveDate::from_ymd_opt(year, month, of_month))
            .ok_or_else(refuse)?;
        let Some(time) = time else {
            return if text.ends_with('Z') {
                Err(refuse())
            } else {
                Ok(Self::Day(date))
            };
        };
        let [hour, minute, second] = fields(time, [2, 2, 2]).ok_or_else(refuse)?;
        let end = date.and_hms_opt(hour, minute, second).ok_or_else(refuse)?;
        Ok(if text.ends_with('Z') {
            Self::Instant(end)
        } else {
            Self::Local(end)
        })
    }
}

/// Cuts digits into numbers of fixed widths, when nothing else is there.
fn fields(text: &str, widths: [usize; 3]) -> Option<[u32; 3]> {
    let whole = text.len() == widths.iter().sum::<usize>() && text.bytes().all(|b| b.is_ascii_digit());
    if !whole {
        return None;
    }
    let mut from = 0;
    let mut numbers = [0; 3];
    for (number, width) in numbers.iter_mut().zip(widths) {
        *number = text.get(from..from + width)?.parse().ok()?;
        from += width;
    }
    Some(numbers)
}

impl fmt::Display for Until {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Day(day) => write!(f, "{}", day.format("%Y%m%d")),
            Self::Local(end) => write!(f, "{}", end.format("%Y%m%dT%H%M%S")),
            Self::Instant(end) => write!(f, "{}", end.format("%Y%m%dT%H%M%SZ")),
        }
    }
}
