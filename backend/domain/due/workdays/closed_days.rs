//! The closed days of a building, laid out once so that millions of due dates can ask.
//!
//! It decides nothing: within the years laid out a day is a bit, outside of them the calendar itself is asked, and both say the same.

use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate};

use super::WorkCalendar;

/// Years that are laid out.
const YEARS: i32 = 40;

/// Years that are laid out for a page, which asks about a few days.
const FEW_YEARS: i32 = 2;

/// The closed days of a building.
///
/// ```
/// # use anglestop::domain::due::{ClosedDays, DayOfWeek, WorkCalendar, WorkingDays};
/// let week = WorkingDays::of(&[DayOfWeek::Monday, DayOfWeek::Tuesday]).unwrap_or_default();
/// let closed = ClosedDays::of(WorkCalendar { working_days: week, closings: Vec::new() }, "2026-01-01".parse()?);
/// assert!(closed.is_closed("2026-07-04".parse()?)); // a Saturday
/// assert!(!closed.is_closed("2126-07-01".parse()?)); // a Monday a hundred years on
/// # Ok::<(), chrono::ParseError>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct ClosedDays {
    calendar: Arc<WorkCalendar>,
    /// The first day laid out, counted from the common era.
    first: i32,
    /// A bit a day.
    bits: Arc<[u64]>,
}

impl ClosedDays {
    /// Every day is open.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    /// Lays out a calendar for the 40 years from the year of a day on.
    #[must_use]
    pub fn of(calendar: WorkCalendar, from: NaiveDate) -> Self {
        Self::laid_out(calendar, from, YEARS)
    }

    /// The same for whoever asks about a few days near `from` and not about millions: two years are laid out.
    #[must_use]
    pub fn near(calendar: WorkCalendar, from: NaiveDate) -> Self {
        Self::laid_out(calendar, from, FEW_YEARS)
    }

    fn laid_out(calendar: WorkCalendar, from: NaiveDate, years: i32) -> Self {
        if calendar == WorkCalendar::default() {
            return Self::none();
        }
        let first = from.with_ordinal(1).unwrap_or(from);
        let last = NaiveDate::from_ymd_opt(first.year() + years, 1, 1).unwrap_or(first);
        let days = usize::try_from((last - first).num_days()).unwrap_or_default();
        let mut laid = Laid {
            first: first.num_days_from_ce(),
            bits: vec![0; days.div_ceil(64)],
        };
        let week = first.iter_days().take(7);
        for day in week.filter(|day| !calendar.working_days.contains(day.weekday())) {
            for number in (day.num_days_from_ce()..last.num_days_from_ce()).step_by(7) {
                laid.close(number);
            }
        }
        for closing in &calendar.closings {
            for begun in closing.beginnings(first, last) {
                let begun = begun.num_days_from_ce();
                for number in begun..begun + i32::from(closing.days) {
                    laid.close(number);
                }
            }
        }
        Self {
            calendar: Arc::new(calendar),
            first: laid.first,
            bits: laid.bits.into(),
        }
    }

    /// Whether every day is open.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.bits.is_empty()
    }

    /// Whether planned work is not done on a day.
    #[must_use]
    #[inline]
    pub fn is_closed(&self, day: NaiveDate) -> bool {
        if self.bits.is_empty() {
            return false;
        }
        let at = usize::try_from(day.num_days_from_ce() - self.first);
        match at.ok().and_then(|at| Some((self.bits.get(at / 64)?, at % 64))) {
            Some((word, at)) => word >> at & 1 == 1,
            None => self.calendar.closed(day).is_some(),
        }
    }

    /// The calendar that was laid out.
    #[must_use]
    pub fn calendar(&self) -> &WorkCalendar {
        &self.calendar
    }

    /// The first open day on or after `day`, among the `within` days from it on.
    #[must_use]
    pub fn open_on_or_after(&self, day: NaiveDate, within: u16) -> Option<NaiveDate> {
        day.iter_days()
            .take(usize::from(within))
            .find(|day| !self.is_closed(*day))
    }

    /// The last open day on or before `day`, among the `within` days back from it.
    #[must_use]
    pub fn open_on_or_before(&self, day: NaiveDate, within: u16) -> Option<NaiveDate> {
        (0..within)
            .filter_map(|back| day.checked_sub_days(Days::new(u64::from(back))))
            .find(|day| !self.is_closed(*day))
    }
}

struct Laid {
    first: i32,
    bits: Vec<u64>,
}

impl Laid {
    fn close(&mut self, number: i32) {
        let at = usize::try_from(number - self.first);
        if let Some((word, at)) = at
            .ok()
            .and_then(|at| Some((self.bits.get_mut(at / 64)?, at % 64)))
        {
            *word |= 1 << at;
        }
    }
}
