//! The time from one doing to the next, in whole calendar days: an ISO 8601 duration without a time.
//!
//! It decides what is an interval and on which day it ends. It does not know what is counted.

use std::fmt;
use std::str::FromStr;

use chrono::{Days, Months, NaiveDate};
use thiserror::Error;

/// The longest interval taken, in years.
pub const LONGEST_YEARS: u32 = 100;

/// A length of calendar time: `P90D`, `P2W`, `P6M`, `P1Y`, `P1Y6M`.
///
/// Years and months are added first and end on the month's last day where the day does not exist
/// (31 August and six months is 28 February), then weeks and days. That differs from a MONTHLY rule
/// begun on the 31st, which skips short months.
///
/// It keeps the units it was written in: `P12M` stays `P12M`, and compares unequal to `P1Y`.
///
/// # Source
///
/// ISO 8601-1:2019, 5.5.2 (durations); weeks stand alone there. Clamping to the month's last day:
/// common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Interval {
    years: u32,
    months: u32,
    weeks: u32,
    days: u32,
}

/// Why an interval was refused.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum IntervalError {
    /// Not an ISO 8601 duration.
    #[error("\"{0}\" is not an interval: write P, a number and D, W, M or Y, such as P90D, P2W, P6M or P1Y")]
    Form(String),
    /// A minus sign.
    #[error("{0} is negative: an interval runs forward, so write it without the minus sign")]
    Negative(String),
    /// A `T` part.
    #[error("{0} has a time of day, and checks come due by the day: use days, weeks, months or years")]
    Time(String),
    /// Nothing but zeros.
    #[error("{0} has no length: the shortest interval is one day, P1D")]
    Zero(String),
    /// Weeks beside other units.
    #[error("{0} mixes weeks with other units, which ISO 8601 does not allow: write the weeks as days")]
    WeeksWithOthers(String),
    /// Over [`LONGEST_YEARS`].
    #[error("{0} is longer than {LONGEST_YEARS} years, the longest interval there is: shorten it")]
    TooLong(String),
}

impl Interval {
    /// The day on which an interval begun on `date` ends.
    ///
    /// ```
    /// # use anglestop::domain::recurrence::Interval;
    /// # use chrono::NaiveDate;
    /// # let day = |text: &str| text.parse::<NaiveDate>();
    /// let month: Interval = "P1M".parse()?;
    /// assert_eq!(month.add_to(day("2026-01-31")?), day("2026-02-28")?);
    /// assert_eq!(month.add_to(day("2026-02-28")?), day("2026-03-28")?); // counts on from there
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn add_to(&self, date: NaiveDate) -> NaiveDate {
        date.checked_add_months(Months::new(self.total_months()))
            .and_then(|end| end.checked_add_days(Days::new(u64::from(self.total_days()))))
            .unwrap_or(NaiveDate::MAX)
    }

    /// The fewest days the interval can take, whatever day it begins on, in this century and the next.
    #[must_use]
    pub fn shortest_days(&self) -> u32 {
        // A span is shortest when it misses leap days. Four common starts cover the leap cycle, and
        // the years up to 2100, which has no leap day, cover the spans across it. Only the first and
        // the last days of a month can be shortest, since the end is clamped to the month's last day.
        let years = (2001..=2004).chain(2096..=2100);
        years
            .flat_map(|year| (1..=12).map(move |month| (year, month)))
            .flat_map(|(year, month)| [1, 28, 29, 30, 31].map(|day| (year, month, day)))
            .filter_map(|(year, month, day)| NaiveDate::from_ymd_opt(year, month, day))
            .map(|date| (self.add_to(date) - date).num_days())
            .min()
            .and_then(|days| u32::try_from(days).ok())
            .unwrap_or(0)
    }

    /// In words: "every 6 months, counted from the last time".
    #[must_use]
    pub fn describe(&self) -> String {
        let units = [
            (self.years, "year"),
            (self.months, "month"),
            (self.weeks, "week"),
            (self.days, "day"),
        ];
        let present: Vec<_> = units.into_iter().filter(|(n, _)| *n > 0).collect();
        let length = match present.as_slice() {
            [(1, unit)] => (*unit).to_owned(),
            several => several
                .iter()
                .map(|(n, unit)| format!("{n} {unit}{}", if *n == 1 { "" } else { "s" }))
                .collect::<Vec<_>>()
                .join(" and "),
        };
        format!("every {length}, counted from the last time")
    }

    fn total_months(&self) -> u32 {
        self.years.saturating_mul(12).saturating_add(self.months)
    }

    fn total_days(&self) -> u32 {
        self.weeks.saturating_mul(7).saturating_add(self.days)
    }
}

impl FromStr for Interval {
    type Err = IntervalError;

    fn from_str(text: &str) -> Result<Self, IntervalError> {
        let given = text.trim().to_ascii_uppercase();
        if given.contains('-') {
            return Err(IntervalError::Negative(given));
        }
        let form = || IntervalError::Form(text.trim().to_owned());
        let body = given.strip_prefix('P').ok_or_else(form)?;
        if body.contains('T') {
            return Err(IntervalError::Time(given));
        }
        let mut units = [('Y', None), ('M', None), ('W', None), ('D', None)];
        let mut from = 0;
        let mut digits = String::new();
        for letter in body.chars() {
            if letter.is_ascii_digit() {
                digits.push(letter);
                continue;
            }
            // Units come in the order of the standard, each once.
            let found = units.iter().skip(from).position(|(unit, _)| *unit == letter);
            let at = from + found.ok_or_else(form)?;
            if digits.is_empty() {
                return Err(form());
            }
            let Ok(number) = digits.parse::<u32>() else {
                return Err(IntervalError::TooLong(given));
            };
            units[at].1 = Some(number);
            digits.clear();
            from = at + 1;
        }
        if from == 0 || !digits.is_empty() {
            return Err(form());
        }
        let [years, months, weeks, days] = units.map(|(_, number)| number.unwrap_or(0));
        if units[2].1.is_some() && units.iter().filter(|(_, number)| number.is_some()).count() > 1 {
            return Err(IntervalError::WeeksWithOthers(given));
        }
        Self {
            years,
            months,
            weeks,
            days,
        }
        .within_limits(given)
    }
}

impl Interval {
    fn within_limits(self, given: String) -> Result<Self, IntervalError> {
        if self.total_months() == 0 && self.total_days() == 0 {
            return Err(IntervalError::Zero(given));
        }
        let begin = NaiveDate::from_ymd_opt(2000, 1, 1).unwrap_or_default();
        let last = begin
            .checked_add_months(Months::new(LONGEST_YEARS * 12))
            .unwrap_or(begin);
        if self.add_to(begin) > last {
            Err(IntervalError::TooLong(given))
        } else {
            Ok(self)
        }
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("P")?;
        let units = [
            (self.years, 'Y'),
            (self.months, 'M'),
            (self.weeks, 'W'),
            (self.days, 'D'),
        ];
        units
            .iter()
            .filter(|(n, _)| *n > 0)
            .try_for_each(|(n, unit)| write!(f, "{n}{unit}"))
    }
}
