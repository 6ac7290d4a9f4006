//! A rule compiled to day arithmetic: the first day on or after, the last before, how many between,
//! none of them found by walking from the start.
//!
//! A rule takes the plainest shape that holds it: days in steps, a mask for each kind of month, of week,
//! or a set for each kind of year. Its end is one day: UNTIL and COUNT are turned into it here. The
//! days of RDATE and EXDATE lie beside the shape. Nothing here reads text or knows a zone.

mod months;
mod shape;
mod skipping;
mod stride;
mod table;
mod wanted;
mod weeks;
mod years;

use chrono::{Datelike, NaiveDate};

use super::calendar::new_year;
use super::parts::Parts;
use super::rule::LAST_YEAR;
use shape::Shape;
pub use table::{DayTable, LONGEST_TABLE_DAYS};

/// Nothing is found after the last day of this year.
const HORIZON_YEAR: i32 = LAST_YEAR;
const HORIZON_MONTH: i32 = HORIZON_YEAR * 12 + 11;
const HORIZON_DAY: i32 = new_year(HORIZON_YEAR + 1) - 1;

/// Why a rule has no day at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Never {
    /// No day of the calendar matches.
    Matches,
    /// It ends before this, its first.
    EndsBefore(NaiveDate),
    /// EXDATE takes them all.
    Excluded,
}

/// The days of a rule.
#[derive(Debug, Clone)]
pub(super) struct Compiled {
    shape: Shape,
    /// First and last occurrence of the rule itself, as day numbers.
    own: (i32, i32),
    /// First and last occurrence, RDATE and EXDATE considered.
    first: NaiveDate,
    last: NaiveDate,
    /// Extra days that the rule does not have, and days of the rule that are taken away, sorted.
    extra: Vec<i32>,
    except: Vec<i32>,
    listed: bool,
}

impl Compiled {
    /// # Errors
    ///
    /// When no day is left.
    pub(super) fn new(
        parts: &Parts,
        start: NaiveDate,
        until: Option<NaiveDate>,
        extra: &[NaiveDate],
        except: &[NaiveDate],
    ) -> Result<Self, Never> {
        let shape = Shape::new(parts, start).ok_or(Never::Matches)?;
        let first = shape.next(start.num_days_from_ce()).ok_or(Never::Matches)?;
        let end = until.map_or(HORIZON_DAY, |day| day.num_days_from_ce().min(HORIZON_DAY));
        if first > end {
            return Err(if first <= HORIZON_DAY {
                Never::EndsBefore(date(first))
            } else {
                Never::Matches
            });
        }
        let end = parts
            .count
            .and_then(|count| shape.nth(first, count))
            .map_or(end, |nth| nth.min(end));
        let last = shape.previous(end + 1).unwrap_or(first);
        let mut compiled = Self {
            shape,
            own: (first, last),
            first: date(first),
            last: date(last),
            extra: Vec::new(),
            except: Vec::new(),
            listed: false,
        };
        if extra.is_empty() && except.is_empty() {
            return Ok(compiled);
        }
        let numbers = |days: &[NaiveDate]| {
            let mut numbers: Vec<i32> = days.iter().map(Datelike::num_days_from_ce).collect();
            numbers.sort_unstable();
            numbers.dedup();
            numbers
        };
        let taken = numbers(except);
        let mut added = numbers(extra);
        added.retain(|day| taken.binary_search(day).is_err() && !compiled.owns(*day));
        compiled.extra = added;
        compiled.except = taken.into_iter().filter(|day| compiled.owns(*day)).collect();
        compiled.listed = true;
        let first = compiled.next_listed(i32::MIN).ok_or(Never::Excluded)?;
        compiled.first = date(first);
        compiled.last = date(compiled.previous_listed(i32::MAX).unwrap_or(first));
        Ok(compiled)
    }

    /// The first and last occurrence.
    pub(super) fn ends(&self) -> (NaiveDate, NaiveDate) {
        (self.first, self.last)
    }

    /// The first occurrence on or after a day.
    #[inline]
    pub(super) fn next(&self, day: NaiveDate) -> Option<NaiveDate> {
        if day <= self.first {
            return Some(self.first);
        }
        if day > self.last {
            return None;
        }
        if self.listed {
            return self.next_listed(day.num_days_from_ce()).map(date);
        }
        self.shape.next_date(day)
    }

    /// As [`Compiled::next`], by day number.
    #[inline]
    pub(super) fn next_number(&self, day: i32) -> Option<i32> {
        if self.listed {
            return self.next_listed(day);
        }
        self.next_own(day)
    }

    /// The last occurrence before a day.
    pub(super) fn previous(&self, day: NaiveDate) -> Option<NaiveDate> {
        if day <= self.first {
            return None;
        }
        if day > self.last {
            return Some(self.last);
        }
        let number = day.num_days_from_ce();
        let found = if self.listed {
            self.previous_listed(number)
        } else {
            self.previous_own(number)
        };
        found.map(date)
    }

    /// How many occurrences lie from one day to another, both included.
    pub(super) fn count(&self, from: NaiveDate, to: NaiveDate) -> usize {
        let (from, to) = (from.num_days_from_ce(), to.num_days_from_ce());
        let own = self.shape.count(from.max(self.own.0), to.min(self.own.1));
        let within = |days: &[i32]| {
            let below = |day: i32| days.partition_point(|listed| *listed < day);
            below(to.saturating_add(1)).saturating_sub(below(from))
        };
        own + within(&self.extra) - within(&self.except)
    }

    /// The table of a span of days.
    pub(super) fn table(&self, from: NaiveDate, to: NaiveDate) -> DayTable {
        DayTable::new(self, from, to)
    }

    #[inline]
    fn next_own(&self, day: i32) -> Option<i32> {
        if day <= self.own.0 {
            return Some(self.own.0);
        }
        if day > self.own.1 {
            return None;
        }
        self.shape.next(day)
    }

    fn previous_own(&self, day: i32) -> Option<i32> {
        if day <= self.own.0 {
            return None;
        }
        if day > self.own.1 {
            return Some(self.own.1);
        }
        self.shape.previous(day)
    }

    fn owns(&self, day: i32) -> bool {
        self.next_own(day) == Some(day)
    }

    fn next_listed(&self, day: i32) -> Option<i32> {
        let mut own = self.next_own(day);
        while let Some(found) = own
            && self.except.binary_search(&found).is_ok()
        {
            own = self.next_own(found + 1);
        }
        let at = self.extra.partition_point(|extra| *extra < day);
        own.into_iter().chain(self.extra.get(at).copied()).min()
    }

    fn previous_listed(&self, day: i32) -> Option<i32> {
        let mut own = self.previous_own(day);
        while let Some(found) = own
            && self.except.binary_search(&found).is_ok()
        {
            own = self.previous_own(found);
        }
        let at = self.extra.partition_point(|extra| *extra < day);
        let extra = at
            .checked_sub(1)
            .and_then(|before| self.extra.get(before))
            .copied();
        own.into_iter().chain(extra).max()
    }
}

/// The date of a day number within the horizon.
fn date(number: i32) -> NaiveDate {
    NaiveDate::from_num_days_from_ce_opt(number).unwrap_or(NaiveDate::MAX)
}
