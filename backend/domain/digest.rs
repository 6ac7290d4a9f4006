//! What a technician is told in the morning: which units, in which order, how many are left out. Knows no mail and no database.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate, NaiveDateTime};

use super::trade::Severity;

/// Most units that a digest names; the rest are counted.
pub const MOST_UNITS: usize = 15;
/// Days ahead that "this week" reaches, today included.
pub const WEEK_DAYS: u64 = 7;

/// One due check, as the store knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct DueCheck {
    /// Key of the unit.
    pub unit: i64,
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub label: String,
    /// The label's sorting text.
    pub order: String,
    /// Due date.
    pub due: NaiveDate,
    /// Last day of grace.
    pub last_day: NaiveDate,
    /// Effort, minutes.
    pub minutes: f64,
}

/// An open turnover.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenTurnover {
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub label: String,
    /// The stage it is in, in words.
    pub stage: String,
    /// Move-in, local date.
    pub move_in: NaiveDate,
}

/// An open deficiency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenDeficiency {
    /// Its number.
    pub number: i64,
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub label: String,
    /// What is wrong.
    pub title: String,
    /// How grave.
    pub severity: Severity,
    /// Local instant by which it must be right, when its severity has a deadline.
    pub correct_by: Option<NaiveDateTime>,
}

/// One unit of a digest.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitLine {
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub label: String,
    order: String,
    /// Checks to do there, overdue or due this week.
    pub checks: usize,
    /// Minutes for all of them.
    pub minutes: f64,
    /// Checks past their last day.
    pub overdue: usize,
    /// Days since the earliest last day, 0 when nothing is overdue.
    pub days_over: i64,
    /// The earliest due date.
    pub first_due: NaiveDate,
}

/// What one person is told on one local day.
#[derive(Debug, Clone, PartialEq)]
pub struct Digest {
    /// The person's local date.
    pub date: NaiveDate,
    /// Units with something overdue, longest over first.
    pub overdue: Vec<UnitLine>,
    /// Units with nothing overdue and something due this week, earliest first.
    pub this_week: Vec<UnitLine>,
    /// Units that were counted and not named.
    pub more_units: usize,
    /// Checks in them.
    pub more_checks: usize,
    /// Units with something overdue, named or counted.
    pub overdue_units: usize,
    /// Checks past their last day, in all of them.
    pub overdue_checks: usize,
    /// Open turnovers, earliest move-in first.
    pub turnovers: Vec<OpenTurnover>,
    /// Open deficiencies, earliest deadline first.
    pub deficiencies: Vec<OpenDeficiency>,
}

impl Digest {
    /// Puts together what is due, or nothing when nothing is.
    #[must_use]
    pub fn of(
        date: NaiveDate,
        due: Vec<DueCheck>,
        mut turnovers: Vec<OpenTurnover>,
        mut deficiencies: Vec<OpenDeficiency>,
    ) -> Option<Self> {
        let lines = by_unit(date, due);
        if lines.is_empty() && turnovers.is_empty() && deficiencies.is_empty() {
            return None;
        }
        let left_out = lines.iter().skip(MOST_UNITS);
        let (more_units, more_checks) = (left_out.clone().count(), left_out.map(|line| line.checks).sum());
        let overdue_units = lines.iter().filter(|line| line.overdue > 0).count();
        let overdue_checks = lines.iter().map(|line| line.overdue).sum();
        let (overdue, this_week) = lines
            .into_iter()
            .take(MOST_UNITS)
            .partition(|line: &UnitLine| line.overdue > 0);
        turnovers.sort_by(|a, b| (a.move_in, &a.building, &a.label).cmp(&(b.move_in, &b.building, &b.label)));
        deficiencies.sort_by_key(|deficiency| {
            (
                deficiency.correct_by.is_none(),
                deficiency.correct_by,
                deficiency.number,
            )
        });
        Some(Self {
            date,
            overdue,
            this_week,
            more_units,
            more_checks,
            overdue_units,
            overdue_checks,
            turnovers,
            deficiencies,
        })
    }

    /// All checks, named or counted.
    #[must_use]
    pub fn checks(&self) -> usize {
        self.overdue
            .iter()
            .chain(&self.this_week)
            .map(|line| line.checks)
            .sum::<usize>()
            + self.more_checks
    }
}

/// A line a unit, those with something overdue first, longest over first, then the earliest due.
fn by_unit(date: NaiveDate, due: Vec<DueCheck>) -> Vec<UnitLine> {
    let week_ends = date.checked_add_days(Days::new(WEEK_DAYS - 1)).unwrap_or(date);
    let mut units: BTreeMap<i64, UnitLine> = BTreeMap::new();
    for check in due.into_iter().filter(|check| check.due <= week_ends) {
        let line = units.entry(check.unit).or_insert_with(|| UnitLine {
            building: check.building,
            label: check.label,
            order: check.order,
            checks: 0,
            minutes: 0.0,
            overdue: 0,
            days_over: 0,
            first_due: check.due,
        });
        let days_over = (date - check.last_day).num_days().max(0);
        line.checks += 1;
        line.minutes += check.minutes;
        line.overdue += usize::from(days_over > 0);
        line.days_over = line.days_over.max(days_over);
        line.first_due = line.first_due.min(check.due);
    }
    let mut lines: Vec<UnitLine> = units.into_values().collect();
    lines.sort_by(|a, b| {
        (b.days_over, a.first_due, &a.building, &a.order).cmp(&(
            a.days_over,
            b.first_due,
            &b.building,
            &b.order,
        ))
    });
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn check(unit: i64, due: &str, last_day: &str) -> DueCheck {
        DueCheck {
            unit,
            building: "ALDER".to_owned(),
            label: unit.to_string(),
            order: format!("{unit:0>10}"),
            due: day(due),
            last_day: day(last_day),
            minutes: 2.5,
        }
    }

    #[test]
    fn nothing_due_is_no_digest() {
        let later = vec![check(1, "2026-12-02", "2026-12-30")];
        assert_eq!(Digest::of(day("2026-11-25"), later, vec![], vec![]), None);
    }

    #[test]
    fn a_unit_stays_whole_and_overdue_comes_first() {
        let due = vec![
            check(1, "2026-11-27", "2026-12-27"),
            check(2, "2026-10-01", "2026-11-20"),
            check(2, "2026-11-30", "2026-12-30"),
        ];
        let digest = Digest::of(day("2026-11-25"), due, vec![], vec![]);
        let Some(digest) = digest else {
            panic!("something is due")
        };
        assert_eq!(
            (
                digest.overdue[0].label.as_str(),
                digest.overdue[0].checks,
                digest.overdue[0].days_over
            ),
            ("2", 2, 5)
        );
        assert_eq!((digest.overdue_units, digest.overdue_checks), (1, 1));
        assert_eq!(
            (digest.this_week[0].label.as_str(), digest.this_week.len()),
            ("1", 1)
        );
    }

    #[test]
    fn units_past_the_fifteenth_are_counted() {
        let due = (1..=18).flat_map(|unit| {
            [
                check(unit, "2026-11-25", "2026-12-01"),
                check(unit, "2026-11-25", "2026-12-01"),
            ]
        });
        let digest = Digest::of(day("2026-11-25"), due.collect(), vec![], vec![]);
        let Some(digest) = digest else {
            panic!("something is due")
        };
        assert_eq!(
            (
                digest.this_week.len(),
                digest.more_units,
                digest.more_checks,
                digest.checks()
            ),
            (15, 3, 6, 36)
        );
    }
}
