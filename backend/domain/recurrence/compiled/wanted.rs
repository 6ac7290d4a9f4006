//! The days a rule wants, as masks and short lists: what is evaluated when a rule is compiled.
//!
//! It decides which days of one month, year or week a rule picks. It does not know the interval, the
//! start or the end.
//!
//! # Source
//!
//! RFC 5545, 3.3.10: the table of parts by frequency (expand or limit), BYSETPOS over the set of one
//! period, and "information not contained in the rule is derived from DTSTART". RFC 7529, 4.1: a day
//! that does not exist is moved after BYMONTHDAY and BYYEARDAY and before BYDAY and BYSETPOS.

use chrono::{Datelike, NaiveDate};

use crate::domain::recurrence::calendar::YearShape;
use crate::domain::recurrence::parts::{Frequency, Parts, Skip};

/// What is left of a rule once its frequency is known and DTSTART has filled the gaps.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    /// Bit 0 is January; all twelve when the rule names none.
    pub(super) months: u32,
    /// BYMONTHDAY from the front: bit 0 is the 1st; and from the back: bit 0 is the last.
    front: u32,
    back: u32,
    named_month_days: bool,
    pub(super) year_days: Vec<i32>,
    pub(super) weeks: Vec<i32>,
    week_start: i32,
    /// BYDAY without numbers: bit 0 is Monday.
    pub(super) weekdays: u32,
    /// BYDAY with numbers: which one, and the weekday.
    pub(super) counted: Vec<(i32, i32)>,
    /// Whether the numbers count within the year.
    counted_in_year: bool,
    pub(super) positions: Vec<i32>,
    pub(super) skip: Skip,
}

const ALL_MONTHS: u32 = 0xFFF;

impl Wanted {
    pub(super) fn new(parts: &Parts, start: NaiveDate) -> Self {
        let wide = |list: &[i16]| list.iter().map(|number| i32::from(*number)).collect::<Vec<_>>();
        let mut wanted = Self {
            months: parts.months.iter().map(|month| 1 << (month - 1)).sum(),
            front: bits(parts.month_days.iter().filter(|day| **day > 0)),
            back: bits(parts.month_days.iter().filter(|day| **day < 0)),
            named_month_days: !parts.month_days.is_empty(),
            year_days: wide(&parts.year_days),
            weeks: wide(&parts.week_numbers),
            week_start: parts.week_start.num_days_from_monday() as i32,
            weekdays: 0,
            counted: Vec::new(),
            counted_in_year: parts.frequency == Frequency::Yearly && parts.months.is_empty(),
            positions: wide(&parts.positions),
            skip: parts.skip,
        };
        for day in &parts.days {
            let weekday = day.weekday.num_days_from_monday() as i32;
            match day.ordinal {
                Some(ordinal) => wanted.counted.push((i32::from(ordinal), weekday)),
                None => wanted.weekdays |= 1 << weekday,
            }
        }
        wanted.derive_from_start(parts, start);
        wanted
    }

    /// RFC 5545, 3.3.10: what the rule leaves open comes from DTSTART.
    fn derive_from_start(&mut self, parts: &Parts, start: NaiveDate) {
        let names_days =
            !(parts.days.is_empty() && parts.month_days.is_empty() && parts.year_days.is_empty());
        let weekday = 1 << start.weekday().num_days_from_monday();
        let day = 1 << start.day0();
        match parts.frequency {
            Frequency::Daily => {}
            Frequency::Weekly if parts.days.is_empty() => self.weekdays = weekday,
            Frequency::Monthly if !names_days => self.front = day,
            Frequency::Yearly if !names_days && !self.weeks.is_empty() => self.weekdays = weekday,
            Frequency::Yearly if !names_days => {
                self.front = day;
                if parts.months.is_empty() {
                    self.months = 1 << start.month0();
                }
            }
            _ => {}
        }
        self.named_month_days |= self.front != 0;
        if self.months == 0 {
            self.months = ALL_MONTHS;
        }
    }

    /// Whether nothing narrows the days.
    pub(super) fn is_every_day(&self) -> bool {
        self.months == ALL_MONTHS && !self.named_month_days && self.weekdays == 0
    }

    /// Whether every day the rule wants can be told from its month alone.
    pub(super) fn within_months(&self) -> bool {
        let counted_in_year = self.counted_in_year && !self.counted.is_empty();
        let over_the_year = !self.positions.is_empty() && self.months.count_ones() > 1;
        self.year_days.is_empty() && self.weeks.is_empty() && !counted_in_year && !over_the_year
    }

    /// Whether a day that does not exist can be asked for, and is to be moved.
    pub(super) fn moves_days(&self) -> bool {
        let missing =
            (self.front | self.back) >> 28 != 0 || self.year_days.iter().any(|day| day.abs() == 366);
        self.skip != Skip::Omit && missing
    }

    /// The days of a month of `length` days whose first is `weekday`; bit 0 is the first.
    pub(super) fn month_mask(&self, length: i32, weekday: i32) -> u32 {
        let days = (0..length)
            .filter(|day0| self.names_month_day(day0 + 1, length))
            .filter(|day0| self.names_weekday((weekday + day0) % 7, (day0 + 1, length), (0, 0)));
        let mask = days.fold(0_u64, |mask, day0| mask | 1 << day0);
        self.at_positions(mask) as u32
    }

    /// The days of a month with those it lacks moved: bit 0 is the last day before it, bit 1 its first,
    /// and the bit after its last day the first of the next month.
    pub(super) fn moved_month_mask(&self, before: i32, length: i32, weekday: i32) -> u64 {
        let mut moved = 0_u64;
        for place in self.moved_month_days(length) {
            let weekday_there = (weekday + place + 6) % 7;
            let within = match place {
                0 => (before, before),
                _ if place > length => (1, 31),
                _ => (place, length),
            };
            if self.names_weekday(weekday_there, within, (0, 0)) {
                moved |= 1 << place;
            }
        }
        self.at_positions(moved)
    }

    /// Days of the month from 1, where 0 and `length + 1` lie outside it.
    fn moved_month_days(&self, length: i32) -> impl Iterator<Item = i32> + '_ {
        let front = (1..=31).filter(|day| self.front & (1 << (day - 1)) != 0);
        let back = (1..=31)
            .filter(|day| self.back & (1 << (day - 1)) != 0)
            .map(|day| -day);
        let all = (1..=length).filter(|_| !self.named_month_days);
        let named = front
            .chain(back)
            .filter_map(move |day| place(day, length, self.skip));
        named.chain(all)
    }

    fn names_month_day(&self, day: i32, length: i32) -> bool {
        !self.named_month_days || self.front & (1 << (day - 1)) != 0 || self.back & (1 << (length - day)) != 0
    }

    /// `in_month` and `in_year` are a day's place from 1 and the length of its month and year.
    fn names_weekday(&self, weekday: i32, in_month: (i32, i32), in_year: (i32, i32)) -> bool {
        if self.counted.is_empty() {
            return self.weekdays == 0 || self.weekdays & (1 << weekday) != 0;
        }
        let (place, length) = if self.counted_in_year { in_year } else { in_month };
        let (forward, backward) = ((place - 1) / 7 + 1, -((length - place) / 7 + 1));
        let counts = |ordinal| ordinal == forward || ordinal == backward;
        self.counted
            .iter()
            .any(|(ordinal, day)| *day == weekday && counts(*ordinal))
    }

    /// The days of a year: bit 0 is the last day before it, bit 1 is 1 January.
    pub(super) fn year_set(&self, shape: YearShape) -> YearSet {
        let mut set = YearSet::default();
        let length = shape.length;
        let mut by_month = YearSet::default();
        let mut first = 1;
        for month0 in 0..12 {
            let of_month = days_of_month(month0, length);
            if self.months & (1 << month0) != 0 {
                self.moved_month_days(of_month)
                    .for_each(|day| by_month.insert(first + day - 1));
            }
            first += of_month;
        }
        if !self.named_month_days && self.months == ALL_MONTHS {
            // Nothing but the year day chooses, so one moved out of the year stays chosen.
            by_month.insert(0);
            by_month.insert(length + 1);
        }
        let mut by_year_day = YearSet::default();
        let places = self
            .year_days
            .iter()
            .filter_map(|day| place(*day, length, self.skip));
        places.for_each(|place| by_year_day.insert(place));
        for at in by_month.iter() {
            let weekday = (shape.weekday + at + 6) % 7;
            let in_year = match at {
                0 => (shape.length_before, shape.length_before),
                _ if at > length => (1, shape.length_after),
                _ => (at, length),
            };
            let within = (1..=length).contains(&at);
            let moved = !within && (self.named_month_days || !self.year_days.is_empty());
            let fits = (within || moved)
                && (self.year_days.is_empty() || by_year_day.contains(at))
                && (self.weeks.is_empty() || self.names_week(at, shape))
                && self.names_weekday(weekday, place_in_month(at, length), in_year);
            if fits {
                set.insert(at);
            }
        }
        if self.positions.is_empty() {
            return set;
        }
        let days: Vec<i32> = set.iter().collect();
        let mut picked = YearSet::default();
        let chosen = self
            .positions
            .iter()
            .filter_map(|position| pick(&days, *position));
        chosen.for_each(|day| picked.insert(day));
        picked
    }

    /// Whether BYWEEKNO names the week of a day, given by its place in a year of this shape.
    ///
    /// A week belongs to the year that holds at least four of its days (RFC 5545, 3.3.10); days at
    /// either end of a year may lie in a week of its neighbour, and are then counted in that one.
    fn names_week(&self, at: i32, shape: YearShape) -> bool {
        let into_week = |weekday: i32| (weekday - self.week_start).rem_euclid(7);
        let here = into_week(shape.weekday);
        let first = if here <= 3 { 1 - here } else { 8 - here };
        let named = |week: i32, of: i32| {
            self.weeks
                .iter()
                .any(|number| *number == week || *number == week - of - 1)
        };
        if at < first {
            let before = into_week((shape.weekday - shape.length_before).rem_euclid(7));
            let last = weeks_of_year(before, shape.length_before);
            return named(last, last);
        }
        let (week, last) = ((at - first) / 7 + 1, weeks_of_year(here, shape.length));
        if week <= last {
            return named(week, last);
        }
        let after = into_week((shape.weekday + shape.length) % 7);
        named(1, weeks_of_year(after, shape.length_after))
    }

    /// BYSETPOS over a set of at most 64 days.
    pub(super) fn at_positions(&self, set: u64) -> u64 {
        if self.positions.is_empty() {
            return set;
        }
        let days: Vec<i32> = (0..64).filter(|bit| set & (1 << bit) != 0).collect();
        let picked = self
            .positions
            .iter()
            .filter_map(|position| pick(&days, *position));
        picked.fold(0, |mask, bit| mask | 1 << bit)
    }
}

/// A year of days and one day on each side, as bits.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct YearSet {
    pub(super) words: [u64; 6],
}

impl YearSet {
    fn insert(&mut self, at: i32) {
        if let Some(word) = self.words.get_mut(at as usize / 64) {
            *word |= 1 << (at % 64);
        }
    }

    fn contains(&self, at: i32) -> bool {
        self.words
            .get(at as usize / 64)
            .is_some_and(|word| word & 1 << (at % 64) != 0)
    }

    fn iter(&self) -> impl Iterator<Item = i32> + use<> {
        let set = *self;
        (0..384).filter(move |at| set.contains(*at))
    }
}

/// The place of a day counted from the front or, negative, from the back of `length` days: from 1; 0 or
/// `length + 1` when it does not exist and is moved out.
fn place(day: i32, length: i32, skip: Skip) -> Option<i32> {
    if day.abs() <= length {
        return Some(if day > 0 { day } else { length + 1 + day });
    }
    match (skip, day > 0) {
        (Skip::Omit, _) => None,
        (Skip::Backward, true) => Some(length),
        (Skip::Backward, false) => Some(0),
        (Skip::Forward, true) => Some(length + 1),
        (Skip::Forward, false) => Some(1),
    }
}

fn pick(days: &[i32], position: i32) -> Option<i32> {
    let place = if position > 0 {
        position as usize - 1
    } else {
        days.len().checked_sub(position.unsigned_abs() as usize)?
    };
    days.get(place).copied()
}

/// Weeks of a year whose 1 January lies this many days into its week: 52 or 53.
fn weeks_of_year(into_week: i32, length: i32) -> i32 {
    if into_week == 3 || (into_week == 2 && length == 366) {
        53
    } else {
        52
    }
}

fn days_of_month(month0: i32, year_length: i32) -> i32 {
    match month0 {
        1 => year_length - 337,
        3 | 5 | 8 | 10 => 30,
        _ => 31,
    }
}

/// Place of a day of the year in its month, from 1, and the month's length.
fn place_in_month(at: i32, year_length: i32) -> (i32, i32) {
    match at {
        0 => return (31, 31),
        _ if at > year_length => return (1, 31),
        _ => {}
    }
    let mut left = at;
    for month0 in 0..12 {
        let length = days_of_month(month0, year_length);
        if left <= length {
            return (left, length);
        }
        left -= length;
    }
    (1, 31)
}

fn bits<'a>(days: impl Iterator<Item = &'a i16>) -> u32 {
    days.fold(0, |mask, day| mask | 1 << (day.unsigned_abs() - 1))
}
