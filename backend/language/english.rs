//! Dates, counts and times as English reads them, for the pages that are not in the catalogue yet.

use chrono::{Datelike, NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

pub use crate::domain::due::day_in_words as day;

/// How many due dates moved by a change, in a sentence.
#[must_use]
pub fn due_dates_moved(moved: usize) -> String {
    match moved {
        0 => "No due date moved.".to_owned(),
        _ => format!("{} moved.", count(moved, "due date", "due dates")),
    }
}

/// An instant (UTC) as it reads in a zone: `Tue 3 Feb, 14:05`, with the year when it is not this one there.
#[must_use]
pub fn moment(instant: NaiveDateTime, zone: Tz, today: NaiveDate) -> String {
    let local = instant.and_utc().with_timezone(&zone);
    format!("{}, {}", day(local.date_naive(), today), local.format("%H:%M"))
}

/// A distance as `today`, `in 5 days`, `1 day ago`.
#[must_use]
pub fn distance(date: NaiveDate, today: NaiveDate) -> String {
    match (date - today).num_days() {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        ahead if ahead > 0 => format!("in {ahead} days"),
        behind => format!("{} days ago", -behind),
    }
}

/// An age as `7 years`, `5 months`, `12 days`; nothing for a day that is still ahead.
#[must_use]
pub fn age(from: NaiveDate, today: NaiveDate) -> String {
    let Some(years) = today.years_since(from) else {
        return String::new();
    };
    let months_now = i64::from(today.year()) * 12 + i64::from(today.month());
    let months_then = i64::from(from.year()) * 12 + i64::from(from.month());
    let months = months_now - months_then - i64::from(today.day() < from.day());
    let plural = |number: i64, word: &str| format!("{number} {word}{}", if number == 1 { "" } else { "s" });
    match (years, months) {
        (0, 0) => plural((today - from).num_days(), "day"),
        (0, months) => plural(months, "month"),
        (years, _) => plural(i64::from(years), "year"),
    }
}

/// A count with its noun: `1 unit`, `3 units`, `1,240 units`.
#[must_use]
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", grouped(number), if number == 1 { one } else { many })
}

/// A number with its thousands set apart by commas.
#[must_use]
pub fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut out = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_age_is_said_in_its_largest_whole_unit() {
        let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap_or_default();
        let today = day(2026, 3, 10);
        assert_eq!(age(day(2026, 3, 9), today), "1 day");
        assert_eq!(age(day(2026, 2, 10), today), "1 month");
        assert_eq!(age(day(2026, 2, 11), today), "27 days");
        assert_eq!(age(day(2025, 3, 11), today), "11 months");
        assert_eq!(age(day(2019, 3, 10), today), "7 years");
        assert_eq!(age(day(2026, 3, 11), today), "");
    }

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(grouped(7), "7");
        assert_eq!(grouped(1_240), "1,240");
        assert_eq!(grouped(1_000_000), "1,000,000");
    }
}
