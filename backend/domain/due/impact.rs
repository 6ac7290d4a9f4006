//! What a change of schedules means before anybody makes it: the work of the months ahead, before and after, and what would be overdue
//! at once.
//!
//! It decides what is counted and in which month. Each check is taken as done on the day it comes due, and what is past that as done
//! today. It knows no database: places and plans are handed in.

use std::collections::HashSet;

use chrono::{Datelike, Days, Months, NaiveDate};

use super::plan::{DoneDays, DueRow, Plan, Standing};
use super::window::State;
use crate::domain::register::{CheckId, FixtureId};
use crate::domain::trade::PartKind;

/// Months that are looked at, the current one included.
pub const MONTHS_AHEAD: u32 = 24;

/// What a technician does in a month at fixtures, minutes: 20 days of 6 hours, ways and repairs aside.
///
/// # Source
/// Common practice, no source.
pub const MINUTES_A_MONTH: f64 = 20.0 * 6.0 * 60.0;

/// Work by month.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// Checks in each of the months, the current one first.
    pub checks: Vec<u64>,
    /// Minutes of work in each.
    pub minutes: Vec<f64>,
    /// Checks that are overdue today.
    pub overdue: u64,
    /// Fixtures that are asked about.
    fixtures: HashSet<FixtureId>,
}

impl Default for Work {
    fn default() -> Self {
        let months = usize::try_from(MONTHS_AHEAD).unwrap_or_default();
        Self {
            checks: vec![0; months],
            minutes: vec![0.0; months],
            overdue: 0,
            fixtures: HashSet::new(),
        }
    }
}

impl Work {
    /// How many fixtures are asked about.
    #[must_use]
    pub fn fixtures(&self) -> usize {
        self.fixtures.len()
    }

    /// Minutes in a month on average.
    #[must_use]
    pub fn minutes_a_month(&self) -> f64 {
        self.minutes.iter().sum::<f64>() / f64::from(MONTHS_AHEAD)
    }

    /// Checks in all months.
    #[must_use]
    pub fn all_checks(&self) -> u64 {
        self.checks.iter().sum()
    }

    /// Technicians that the average month keeps busy, 0 and up.
    #[must_use]
    pub fn technicians(&self) -> f64 {
        self.minutes_a_month() / MINUTES_A_MONTH
    }
}

/// Which days and checks are counted, and how long a check takes.
#[derive(Debug, Clone, Copy)]
pub struct Counting<'a> {
    /// The local date today.
    pub today: NaiveDate,
    /// The checks that are looked at, with their minutes.
    pub checks: &'a [(CheckId, f64)],
}

impl Counting<'_> {
    fn minutes(&self, check: CheckId) -> Option<f64> {
        self.checks
            .iter()
            .find(|(known, _)| *known == check)
            .map(|(_, minutes)| *minutes)
    }

    /// The last day of the months that are looked at.
    #[must_use]
    pub fn last_day(&self) -> NaiveDate {
        let first = self.today.with_day(1).unwrap_or(self.today);
        first
            .checked_add_months(Months::new(MONTHS_AHEAD))
            .and_then(|day| day.checked_sub_days(Days::new(1)))
            .unwrap_or(NaiveDate::MAX)
    }

    fn month(&self, day: NaiveDate) -> usize {
        let of = |day: NaiveDate| i64::from(day.year()) * 12 + i64::from(day.month0());
        usize::try_from(of(day) - of(self.today)).unwrap_or_default()
    }
}

/// Adds what a plan asks of one fixture to the work.
pub fn add(
    work: &mut Work,
    counting: Counting<'_>,
    plan: &Plan<'_>,
    standing: &Standing<'_>,
    done: impl Fn(Option<PartKind>, CheckId) -> DoneDays,
) {
    let span = (counting.today, counting.last_day());
    let of = |check: CheckId| counting.minutes(check).is_some();
    let mut seen: HashSet<(Option<PartKind>, CheckId)> = HashSet::new();
    plan.days_ahead(standing, done, of, span, |row: &DueRow, day| {
        let month = counting.month(day);
        if let Some(checks) = work.checks.get_mut(month) {
            *checks += 1;
        }
        if let Some(minutes) = work.minutes.get_mut(month) {
            *minutes += counting.minutes(row.check).unwrap_or_default();
        }
        work.fixtures.insert(row.fixture);
        // Only the row that stands now can be overdue; the later ones are made up.
        if seen.insert((row.part, row.check)) && row.item.window.state(counting.today) == State::Overdue {
            work.overdue += 1;
        }
    });
}
