//! Whether somebody lives in a unit, as far as a due date asks for it.
//!
//! It decides what a vacant unit and an open turnover do to a check. Whether a unit is vacant now is the register's word.

use chrono::NaiveDate;

use super::window::Window;
use crate::domain::code::words;

words! {
    /// What a vacant unit does to a check.
    Vacancy "way to treat a vacant unit" {
        Any = "any", "It asks whether somebody lives there or not";
        NotWhileVacant = "not_while_vacant", "It does not ask while the unit is vacant";
        AtTurnover = "at_turnover", "It asks once at each turnover instead";
    }
}

/// How long a household lives in a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stay {
    /// The day it moves in.
    pub from: NaiveDate,
    /// The first day it no longer lives there; none while it does.
    pub until: Option<NaiveDate>,
}

/// A turnover that is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenTurnover {
    /// The local day on which it was opened.
    pub opened_on: NaiveDate,
    /// The day on which the next household moves in.
    pub move_in_on: NaiveDate,
}

impl OpenTurnover {
    /// From the day it was opened to the day of the move-in, which is due date and last day in one.
    #[must_use]
    pub fn window(&self) -> Window {
        let opens = self.opened_on.min(self.move_in_on);
        Window::from_days(opens, self.move_in_on, self.move_in_on)
            .unwrap_or_else(|| Window::around(self.move_in_on, 0, 0))
    }
}

/// Who lives in a unit when. A common area, and a unit of which nothing is known, is in use.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tenancy {
    /// Whether nobody lives there now: it is vacant, in turnover or off line.
    pub is_vacant: bool,
    /// Its households, the earliest first.
    pub stays: Vec<Stay>,
    /// Its turnover that is open.
    pub turnover: Option<OpenTurnover>,
}

impl Tenancy {
    /// A date on which somebody lives there: the date itself within a stay or after the last one, else the next day of moving in.
    #[must_use]
    pub fn lived_in(&self, day: NaiveDate) -> NaiveDate {
        let covers = |stay: &Stay| stay.from <= day && stay.until.is_none_or(|until| day < until);
        if self.stays.iter().any(covers) {
            return day;
        }
        let later = self.stays.iter().map(|stay| stay.from);
        later.filter(|from| *from > day).min().unwrap_or(day)
    }
}
