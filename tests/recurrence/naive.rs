//! A rule read day by day: slow, without any of the engine's arithmetic, from the words of RFC 5545, 3.3.10.

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::outside::exemptions::{has, values};
use super::outside::generator::{Case, WEEKDAYS};

/// A rule's parts as text says them; COUNT and UNTIL are left out.
pub struct Naive<'a> {
    case: &'a Case,
    interval: i64,
    week_start: Weekday,
    months: Vec<i32>,
    weeks: Vec<i32>,
    year_days: Vec<i32>,
    month_days: Vec<i32>,
    days: Vec<(i32, Weekday)>,
    positions: Vec<i32>,
}

impl<'a> Naive<'a> {
    pub fn new(case: &'a Case) -> Self {
        let numbers = |part: &str| {
            values(case, part)
                .iter()
                .map(|text| text.parse().unwrap())
                .collect::<Vec<i32>>()
        };
        let weekday = |code: &str| {
            let at = WEEKDAYS.iter().position(|day| *day == code).unwrap();
            Weekday::try_from(at as u8).unwrap()
        };
        let days = values(case, "BYDAY").into_iter().map(|text| {
            let (number, code) = text.split_at(text.len() - 2);
            (number.parse().unwrap_or(0), weekday(code))
        });
        let mut naive = Self {
            case,
            interval: numbers("INTERVAL").first().map_or(1, |number| i64::from(*number)),
            week_start: values(case, "WKST")
                .first()
                .map_or(Weekday::Mon, |code| weekday(code)),
            months: numbers("BYMONTH"),
            weeks: numbers("BYWEEKNO"),
            year_days: numbers("BYYEARDAY"),
            month_days: numbers("BYMONTHDAY"),
            days: days.collect(),
            positions: numbers("BYSETPOS"),
        };
        let open = naive.days.is_empty() && naive.month_days.is_empty() && naive.year_days.is_empty();
        let start = case.start;
        if open && (has(case, "FREQ=WEEKLY") || !naive.weeks.is_empty()) {
            naive.days.push((0, start.weekday()));
        } else if open && (has(case, "FREQ=MONTHLY") || has(case, "FREQ=YEARLY")) {
            naive.month_days.push(start.day() as i32);
            if naive.months.is_empty() && has(case, "FREQ=YEARLY") {
                naive.months.push(start.month() as i32);
            }
        }
        naive
    }

    /// Whether a day is an occurrence, COUNT and UNTIL aside.
    pub fn falls_on(&self, day: NaiveDate) -> bool {
        if day < self.case.start || !self.in_interval(day) || !self.passes(day) {
            return false;
        }
        if self.positions.is_empty() {
            return true;
        }
        let (first, days) = self.period(day);
        let set: Vec<NaiveDate> = first
            .iter_days()
            .take(days)
            .filter(|day| self.passes(*day))
            .collect();
        let at = set.iter().position(|other| *other == day).unwrap() as i32;
        self.positions
            .iter()
            .any(|position| *position == at + 1 || *position == at - set.len() as i32)
    }

    fn days_into_week(&self, day: NaiveDate) -> u64 {
        u64::from(day.weekday().days_since(self.week_start))
    }

    /// First day and length of the day's period.
    fn period(&self, day: NaiveDate) -> (NaiveDate, usize) {
        if has(self.case, "FREQ=DAILY") {
            (day, 1)
        } else if has(self.case, "FREQ=WEEKLY") {
            (day - Days::new(self.days_into_week(day)), 7)
        } else if has(self.case, "FREQ=MONTHLY") {
            (day.with_day(1).unwrap(), month_length(day) as usize)
        } else {
            (day.with_ordinal(1).unwrap(), year_length(day.year()) as usize)
        }
    }

    fn in_interval(&self, day: NaiveDate) -> bool {
        let start = self.case.start;
        let months = |day: NaiveDate| i64::from(day.year()) * 12 + i64::from(day.month());
        let periods = if has(self.case, "FREQ=DAILY") {
            (day - start).num_days()
        } else if has(self.case, "FREQ=WEEKLY") {
            (self.period(day).0 - self.period(start).0).num_days() / 7
        } else if has(self.case, "FREQ=MONTHLY") {
            months(day) - months(start)
        } else {
            i64::from(day.year() - start.year())
        };
        periods % self.interval == 0
    }

    fn passes(&self, day: NaiveDate) -> bool {
        let counts = |list: &[i32], place: i32, length: i32| {
            list.is_empty()
                || list
                    .iter()
                    .any(|number| *number == place || *number == place - length - 1)
        };
        let (week, weeks) = self.week_of(day);
        (self.months.is_empty() || self.months.contains(&(day.month() as i32)))
            && counts(&self.weeks, week, weeks)
            && counts(&self.year_days, day.ordinal() as i32, year_length(day.year()))
            && counts(&self.month_days, day.day() as i32, month_length(day))
            && self.passes_weekday(day)
    }

    fn passes_weekday(&self, day: NaiveDate) -> bool {
        let in_year = has(self.case, "FREQ=YEARLY") && self.months.is_empty();
        let (place, length) = if in_year {
            (day.ordinal() as i32, year_length(day.year()))
        } else {
            (day.day() as i32, month_length(day))
        };
        let (from_front, from_back) = ((place + 6) / 7, -(length - place + 7) / 7);
        let mut days = self.days.iter();
        self.days.is_empty()
            || days.any(|(number, weekday)| {
                *weekday == day.weekday() && (*number == 0 || *number == from_front || *number == from_back)
            })
    }

    /// Number of the day's week and how many its year has: the year that holds the week's fourth day.
    fn week_of(&self, day: NaiveDate) -> (i32, i32) {
        let fourth = day - Days::new(self.days_into_week(day)) + Days::new(3);
        let ordinal0 = fourth.ordinal0() as i32;
        (
            ordinal0 / 7 + 1,
            (year_length(fourth.year()) - 1 - ordinal0 % 7) / 7 + 1,
        )
    }
}

fn year_length(year: i32) -> i32 {
    NaiveDate::from_ymd_opt(year, 12, 31).unwrap().ordinal() as i32
}

fn month_length(day: NaiveDate) -> i32 {
    i32::from(day.num_days_in_month())
}
