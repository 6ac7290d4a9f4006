//! The Gregorian calendar as small integers: day numbers, month numbers, and what kind a month or year is.
//!
//! It decides nothing about rules. A *day number* counts days as chrono does (1 is 1 January of the year
//! 1, a Monday); a *month number* is twelve times the year plus the month from 0. Everything here holds
//! for the years 1899 to 2400; nothing asks beyond.

/// The first and last year whose months and years have a kind: one more on each side than rules use.
pub(super) const FIRST_YEAR: i32 = 1899;
const YEARS: usize = 502;
/// Month number of the first month with a kind.
const FIRST_MONTH: i32 = FIRST_YEAR * 12;

/// Kinds of months: four lengths, seven weekdays of the first.
pub(super) const MONTH_KINDS: usize = 28;
/// Kinds of years: seven weekdays of 1 January; leap, after a leap year, before one, or neither.
pub(super) const YEAR_KINDS: usize = 28;

static MONTH_KIND: [u8; YEARS * 12] = month_kinds();
static YEAR_KIND: [u8; YEARS] = year_kinds();

pub(super) const fn is_leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days of a year, 365 or 366.
pub(super) const fn year_length(year: i32) -> i32 {
    if is_leap(year) { 366 } else { 365 }
}

/// Days of a month, 28 to 31; months count from 0.
pub(super) const fn month_length(year: i32, month0: i32) -> i32 {
    match month0 {
        1 => 28 + (is_leap(year) as i32),
        3 | 5 | 8 | 10 => 30,
        _ => 31,
    }
}

/// Day number of 1 January.
pub(super) const fn new_year(year: i32) -> i32 {
    let before = year - 1;
    before * 365 + before / 4 - before / 100 + before / 400 + 1
}

/// Day number of a month's first day.
///
/// # Source
///
/// Neri and Schneider, "Euclidean affine functions and their application to calendar algorithms",
/// Software: Practice and Experience 53 (2023), proposition 6.3: the year begins in March, and 979/32
/// is the mean length of its months.
#[inline]
pub(super) const fn first_of_month(month_number: i32) -> i32 {
    // Unsigned, since these divide in fewer instructions.
    let from_march = (month_number - 2) as u32;
    let (year, month) = (from_march / 12, from_march % 12);
    let century = year / 100;
    (1461 * year / 4 - century + century / 4 + (979 * month + 18) / 32) as i32 - 305
}

/// Month number and day of the month (from 1) of a day number.
///
/// # Source
///
/// As [`first_of_month`], proposition 6.3, read backwards.
#[inline]
pub(super) const fn civil(day_number: i32) -> (i32, u32) {
    let shifted = (day_number + 305) as u32;
    let n1 = 4 * shifted + 3;
    let century = n1 / 146_097;
    let n2 = (n1 % 146_097) | 3;
    let product = 2_939_745_u64 * (n2 as u64);
    let of_century = (product >> 32) as u32;
    let of_year = (product as u32) / 2_939_745 / 4;
    let n3 = 2_141 * of_year + 197_913;
    let (month, day) = (n3 >> 16, (n3 & 0xFFFF) / 2_141);
    let year = 100 * century + of_century;
    ((year * 12 + month - 1) as i32, day + 1)
}

/// Weekday of a day number, Monday 0.
#[inline]
pub(super) const fn weekday(day_number: i32) -> i32 {
    (day_number + 6) % 7
}

/// Index of a month among the [`MONTH_KINDS`]: `(length - 28) * 7 + weekday of the first`.
#[inline]
pub(super) fn month_kind(month_number: i32) -> usize {
    let at = (month_number - FIRST_MONTH) as usize;
    MONTH_KIND.get(at).map_or(0, |kind| *kind as usize)
}

/// Index of a year among the [`YEAR_KINDS`]: `weekday of 1 January * 4 + which`.
#[inline]
pub(super) fn year_kind(year: i32) -> usize {
    let at = (year - FIRST_YEAR) as usize;
    YEAR_KIND.get(at).map_or(0, |kind| *kind as usize)
}

/// What a year's sets of days depend on, besides the rule.
#[derive(Debug, Clone, Copy)]
pub(super) struct YearShape {
    /// Weekday of 1 January, Monday 0.
    pub(super) weekday: i32,
    /// Its days.
    pub(super) length: i32,
    /// Days of the year before.
    pub(super) length_before: i32,
    /// Days of the year after.
    pub(super) length_after: i32,
}

impl YearShape {
    /// The shape behind an index of [`year_kind`].
    pub(super) fn of_kind(kind: usize) -> Self {
        let which = kind % 4;
        let leap = |is: bool| 365 + i32::from(is);
        Self {
            weekday: (kind / 4) as i32,
            length: leap(which == 1),
            length_before: leap(which == 2),
            length_after: leap(which == 3),
        }
    }
}

const fn month_kinds() -> [u8; YEARS * 12] {
    let mut kinds = [0; YEARS * 12];
    let mut at = 0;
    while at < kinds.len() {
        let number = FIRST_MONTH + at as i32;
        let length = month_length(number / 12, number % 12);
        kinds[at] = ((length - 28) * 7 + weekday(first_of_month(number))) as u8;
        at += 1;
    }
    kinds
}

const fn year_kinds() -> [u8; YEARS] {
    let mut kinds = [0; YEARS];
    let mut at = 0;
    while at < YEARS {
        let year = FIRST_YEAR + at as i32;
        let which = if is_leap(year) {
            1
        } else if is_leap(year - 1) {
            2
        } else if is_leap(year + 1) {
            3
        } else {
            0
        };
        kinds[at] = (weekday(new_year(year)) * 4 + which) as u8;
        at += 1;
    }
    kinds
}

#[cfg(test)]
mod tests {
    use chrono::{Datelike, NaiveDate};

    use super::*;

    /// Against chrono, every day of the years that are asked.
    #[test]
    fn every_day_from_1899_to_2400_agrees_with_chrono() {
        let first = NaiveDate::from_ymd_opt(FIRST_YEAR, 1, 1);
        let days = first.into_iter().flat_map(|first| first.iter_days());
        let mut asked = 0;
        for date in days.take_while(|date| date.year() <= 2400) {
            asked += 1;
            let number = date.num_days_from_ce();
            let month = date.year() * 12 + date.month0() as i32;
            assert_eq!(civil(number), (month, date.day()), "{date}");
            assert_eq!(weekday(number), date.weekday().num_days_from_monday() as i32);
            if date.day() == 1 {
                assert_eq!(first_of_month(month), number, "{date}");
                let length = 28 + (month_kind(month) / 7) as i32;
                assert_eq!(length, month_length(date.year(), date.month0() as i32));
                assert_eq!((month_kind(month) % 7) as i32, weekday(number));
            }
            if date.ordinal() == 1 {
                assert_eq!(new_year(date.year()), number);
                let shape = YearShape::of_kind(year_kind(date.year()));
                let lengths = [shape.length_before, shape.length, shape.length_after];
                let year = date.year();
                // A leap year's neighbours are common, and a common year has at most one leap neighbour.
                assert_eq!(lengths, [year - 1, year, year + 1].map(year_length), "{year}");
                assert_eq!(shape.weekday, weekday(number));
            }
        }
        // Four hundred years have 146,097 days; 1899 to 2000 lies before, 2401 after.
        assert_eq!(asked, 146_097 + new_year(2001) - new_year(FIRST_YEAR));
    }
}
