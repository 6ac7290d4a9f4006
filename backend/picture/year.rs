//! A year from a day on as a small calendar: a row a month, a cell a day, the days that count filled, weekends faint.
//! It decides which cell is which day; which days count is the caller's.

use chrono::{Datelike, Months, NaiveDate, Weekday};

use super::ink::{Anchor, Area, Ink};

const LEFT: f64 = 72.0;
const CELL: f64 = 10.0;
const ROW: f64 = 17.0;
const TOP: f64 = 18.0;
/// A year from a day on reaches into the month that it began in.
const MONTHS: u32 = 13;
const WIDTH: f64 = LEFT + 31.0 * CELL + 2.0;

/// Days within the year.
#[derive(Debug, Clone)]
pub struct Year {
    /// The same in words.
    pub title: String,
    /// A day of the first month.
    pub from: NaiveDate,
    /// The days that count; others than those of its months are left out.
    pub days: Vec<NaiveDate>,
}

impl Year {
    /// Whether none of the days lies in its months.
    #[must_use]
    pub fn is_bare(&self) -> bool {
        let first = self.first();
        let end = first.checked_add_months(Months::new(MONTHS));
        !self
            .days
            .iter()
            .any(|day| *day >= first && end.is_none_or(|end| *day < end))
    }

    fn first(&self) -> NaiveDate {
        self.from.with_day(1).unwrap_or(self.from)
    }
}

/// Draws it. A list beside it must say the same.
#[must_use]
pub fn year(year: &Year) -> String {
    let mut ink = Ink::image("year", WIDTH, TOP + ROW * f64::from(MONTHS) + 2.0, &year.title);
    for day in [1, 5, 10, 15, 20, 25, 30] {
        let x = LEFT + CELL * (f64::from(day) - 0.5);
        ink.text("soft", (x, 12.0), 13.0, Anchor::Middle, &day.to_string());
    }
    let first = year.first();
    for row in 0..MONTHS {
        let Some(month) = first.checked_add_months(Months::new(row)) else {
            break;
        };
        let y = TOP + ROW * f64::from(row);
        let label = if row == 0 || month.month() == 1 {
            month.format("%b %Y").to_string()
        } else {
            month.format("%b").to_string()
        };
        ink.text("soft", (LEFT - 6.0, y + 12.5), 13.0, Anchor::End, &label);
        for day in (1..=31).filter_map(|day| month.with_day(day)) {
            cell(&mut ink, day, y, year.days.contains(&day));
        }
    }
    ink.finish()
}

fn cell(ink: &mut Ink, day: NaiveDate, y: f64, counts: bool) {
    let area = Area {
        x: LEFT + CELL * f64::from(day.day() - 1) + 0.5,
        y: y + 1.0,
        width: CELL - 1.0,
        height: ROW - 3.0,
    };
    let is_weekend = matches!(day.weekday(), Weekday::Sat | Weekday::Sun);
    if counts {
        ink.rect("today-mark", area);
    } else if is_weekend {
        ink.rect("rest", area);
    } else {
        ink.rect("day", area);
    }
}
