//! The days of a rule, expanded once and kept in order: the only file that names the `rrule` crate.
//!
//! The crate always walks from the start, so each day is made once and then found by bisection. It
//! sees neither COUNT nor UNTIL nor a zone: those are counted and cut here, since it reads them in
//! ways of its own (see `until`). The table grows as later days are asked for.
//!
//! Nobody outside the room sees this type; compiled day arithmetic can take its place.

use std::sync::{PoisonError, RwLock};

use chrono::{Datelike, Days, Month, NaiveDate, NaiveTime, TimeZone};
use rrule::{NWeekday, RRule, RRuleSet, RRuleSetIter, Tz, Unvalidated};

use super::error::RuleError;
use super::parts::{Day, Frequency, Parts};
use super::rule::LAST_YEAR;

/// How far past the asked day the table grows at a time.
const STRIDE_DAYS: u64 = 1_500;

/// A table of days that fills itself from the front.
#[derive(Debug)]
pub(super) struct Expansion {
    table: RwLock<Table>,
}

#[derive(Debug)]
struct Table {
    days: Vec<NaiveDate>,
    source: Source,
    finished: bool,
}

/// What still has to be drawn from the crate, and where it stops.
struct Source {
    iter: RRuleSetIter,
    start: NaiveDate,
    count: Option<u32>,
    last_day: NaiveDate,
}

impl std::fmt::Debug for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Source")
            .field("start", &self.start)
            .field("last_day", &self.last_day)
            .finish_non_exhaustive()
    }
}

impl Expansion {
    /// # Errors
    ///
    /// [`RuleError::Refused`] when the crate takes none of it.
    pub(super) fn new(
        parts: &Parts,
        start: NaiveDate,
        last_day: Option<NaiveDate>,
    ) -> Result<Self, RuleError> {
        let set = compile(parts, start)?;
        let horizon = NaiveDate::from_ymd_opt(LAST_YEAR, 12, 31).unwrap_or(NaiveDate::MAX);
        let source = Source {
            iter: (&set).into_iter(),
            start,
            count: parts.count,
            last_day: last_day.map_or(horizon, |day| day.min(horizon)),
        };
        let table = Table {
            days: Vec::new(),
            source,
            finished: false,
        };
        Ok(Self {
            table: RwLock::new(table),
        })
    }

    /// Answers from the table once it holds a day on or after `day`, or all there are.
    ///
    /// `ask` sees the days in order; those after `day` may be incomplete, but for the first of them.
    pub(super) fn through<T>(&self, day: NaiveDate, ask: impl FnOnce(&[NaiveDate]) -> T) -> T {
        {
            let table = self.table.read().unwrap_or_else(PoisonError::into_inner);
            if table.reaches(day) {
                return ask(&table.days);
            }
        }
        let mut table = self.table.write().unwrap_or_else(PoisonError::into_inner);
        if !table.reaches(day) {
            table.grow(
                day.checked_add_days(Days::new(STRIDE_DAYS))
                    .unwrap_or(NaiveDate::MAX),
            );
        }
        ask(&table.days)
    }
}

impl Table {
    fn reaches(&self, day: NaiveDate) -> bool {
        self.finished || self.days.last().is_some_and(|last| *last > day)
    }

    /// Draws days until one lies after `target`, or the rule ends.
    fn grow(&mut self, target: NaiveDate) {
        while !self.finished && self.days.last().is_none_or(|last| *last <= target) {
            let full = self.source.count.and_then(|count| usize::try_from(count).ok());
            let next = self.source.iter.next().map(|instant| instant.date_naive());
            match next {
                _ if full.is_some_and(|count| self.days.len() >= count) => self.finished = true,
                Some(day) if day > self.source.last_day => self.finished = true,
                // The crate's start may lie before ours (see `compile`).
                Some(day) if day < self.source.start => {}
                Some(day) if self.days.last().is_some_and(|last| *last >= day) => {}
                Some(day) => self.days.push(day),
                None => self.finished = true,
            }
        }
    }
}

/// The crate's own form of the rule, without its end, at midnight UTC: floating days.
fn compile(parts: &Parts, start: NaiveDate) -> Result<RRuleSet, RuleError> {
    let mut days = parts.days.clone();
    let mut begin = start;
    if parts.frequency == Frequency::Weekly && !parts.positions.is_empty() {
        // BYSETPOS picks from the whole week, and the crate would count from the start's day on:
        // so let it begin with the week, and drop what lies before the start.
        if days.is_empty() {
            days.push(Day::plain(start.weekday()));
        }
        let into_week = start.weekday().days_since(parts.week_start);
        begin = start
            .checked_sub_days(Days::new(u64::from(into_week)))
            .unwrap_or(start);
    }
    let refuse = |reason: String| RuleError::Refused {
        text: parts.to_string(),
        reason,
    };
    let rule = RRule::<Unvalidated>::new(match parts.frequency {
        Frequency::Daily => rrule::Frequency::Daily,
        Frequency::Weekly => rrule::Frequency::Weekly,
        Frequency::Monthly => rrule::Frequency::Monthly,
        Frequency::Yearly => rrule::Frequency::Yearly,
    })
    .interval(u16::try_from(parts.interval).map_err(|error| refuse(error.to_string()))?)
    .week_start(parts.week_start)
    .by_month(&months(&parts.months))
    .by_week_no(narrow(&parts.week_numbers))
    .by_year_day(parts.year_days.clone())
    .by_month_day(narrow(&parts.month_days))
    .by_weekday(
        days.iter()
            .map(|day| NWeekday::new(day.ordinal, day.weekday))
            .collect(),
    )
    .by_set_pos(
        parts
            .positions
            .iter()
            .map(|position| i32::from(*position))
            .collect(),
    );
    let midnight = Tz::UTC.from_utc_datetime(&begin.and_time(NaiveTime::MIN));
    // `limit` ends the search of a rule that matches no day at all.
    rule.build(midnight)
        .map(RRuleSet::limit)
        .map_err(|error| refuse(error.to_string()))
}

fn months(numbers: &[i16]) -> Vec<Month> {
    numbers
        .iter()
        .filter_map(|number| u8::try_from(*number).ok())
        .filter_map(|number| Month::try_from(number).ok())
        .collect()
}

/// The crate takes small numbers; the parser has already kept them small.
fn narrow(numbers: &[i16]) -> Vec<i8> {
    numbers
        .iter()
        .filter_map(|number| i8::try_from(*number).ok())
        .collect()
}
