//! On which days planned work is done in a building: its working days, its public holidays, its shut-down periods.
//!
//! It decides which days are closed and why. What a schedule does about a closed day is the schedule's own word (see `moving`).

mod closed_days;
mod text;

use chrono::{Datelike, Days, NaiveDate, Weekday};

pub use closed_days::ClosedDays;
pub use text::{ClosingText, Repeats, read_working_days};

use crate::domain::code::{Coded, words};
use crate::domain::recurrence::Rule;

use super::plain::DayOfWeek;

/// The longest that a building can be closed at a time, days.
pub const LONGEST_CLOSING_DAYS: u16 = 200;

words! {
    /// Why a building is closed.
    ClosingKind "kind of closed days" {
        PublicHoliday = "public_holiday", "public holiday";
        ShutDown = "shut_down", "shut-down period";
    }
}

/// The weekdays on which planned work is done; at least one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct WorkingDays(u8);

impl Default for WorkingDays {
    /// Every day of the week.
    fn default() -> Self {
        Self(0b111_1111)
    }
}

impl WorkingDays {
    /// These weekdays; `None` when there is none.
    #[must_use]
    pub fn of(days: &[DayOfWeek]) -> Option<Self> {
        let mask = days.iter().fold(0, |mask, day| mask | bit_of(*day));
        (mask != 0).then_some(Self(mask))
    }

    /// Whether planned work is done on this weekday.
    #[must_use]
    pub fn contains(self, weekday: Weekday) -> bool {
        self.0
            & 1_u8
                .checked_shl(weekday.num_days_from_monday())
                .unwrap_or_default()
            != 0
    }

    /// The weekdays, from Monday on.
    pub fn days(self) -> impl Iterator<Item = DayOfWeek> {
        let all = DayOfWeek::ALL.iter().copied();
        all.filter(move |day| self.0 & bit_of(*day) != 0)
    }

    /// As files write them: `MO TU WE TH FR`.
    #[must_use]
    pub fn codes(self) -> String {
        self.days().map(Coded::code).collect::<Vec<_>>().join(" ")
    }

    /// "Every day", "Monday to Friday", "Monday, Wednesday and Saturday".
    #[must_use]
    pub fn in_words(self) -> String {
        let days: Vec<DayOfWeek> = self.days().collect();
        let names: Vec<&str> = days.iter().map(|day| day.name()).collect();
        let run = self.0 >> self.0.trailing_zeros();
        let is_run = run & run.wrapping_add(1) == 0;
        match names.as_slice() {
            [] | [_, _, _, _, _, _, _] => "Every day".to_owned(),
            [only] => (*only).to_owned(),
            [first, _, .., last] if is_run && names.len() > 2 => format!("{first} to {last}"),
            [before @ .., last] => format!("{} and {last}", before.join(", ")),
        }
    }
}

fn bit_of(day: DayOfWeek) -> u8 {
    let at = (0_u32..).zip(DayOfWeek::ALL).find(|(_, known)| **known == day);
    at.and_then(|(at, _)| 1_u8.checked_shl(at)).unwrap_or_default()
}

/// Days on which a building is closed for planned work.
#[derive(Debug, Clone, PartialEq)]
pub struct Closing {
    /// Why.
    pub kind: ClosingKind,
    /// As people call it.
    pub name: String,
    /// The first day when it is once, the first day of the rule otherwise.
    pub start: NaiveDate,
    /// The days it begins on; none for once.
    pub rule: Option<Rule>,
    /// How long it lasts each time, 1 to [`LONGEST_CLOSING_DAYS`].
    pub days: u16,
}

impl Closing {
    /// The day it begins on that a day belongs to; `None` when it does not cover the day.
    #[must_use]
    pub fn begun_before(&self, day: NaiveDate) -> Option<NaiveDate> {
        let begun = match &self.rule {
            None => Some(self.start).filter(|start| *start <= day),
            Some(rule) => rule.previous_before(day.succ_opt()?),
        }?;
        ((day - begun).num_days() < i64::from(self.days)).then_some(begun)
    }

    /// The days it begins on, from one that may still cover `from` to `to`.
    fn beginnings(&self, from: NaiveDate, to: NaiveDate) -> Vec<NaiveDate> {
        let from = from
            .checked_sub_days(Days::new(u64::from(self.days)))
            .unwrap_or(NaiveDate::MIN);
        match &self.rule {
            None => Some(self.start)
                .filter(|start| from <= *start && *start <= to)
                .into_iter()
                .collect(),
            Some(rule) => rule.between(from, to),
        }
    }
}

/// The calendar of a building.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WorkCalendar {
    /// Its working days.
    pub working_days: WorkingDays,
    /// Its public holidays and shut-down periods.
    pub closings: Vec<Closing>,
}

/// Why a day is closed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Closed<'a> {
    /// It is no working day of the week.
    Weekday(DayOfWeek),
    /// A public holiday or a shut-down period.
    Closing(&'a Closing),
}

impl WorkCalendar {
    /// "Monday to Friday, 10 public holidays, 1 shut-down period".
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut said = self.working_days.in_words();
        for kind in ClosingKind::ALL {
            let count = self
                .closings
                .iter()
                .filter(|closing| closing.kind == *kind)
                .count();
            match count {
                0 => {}
                1 => said.push_str(&format!(", 1 {}", kind.name())),
                many => said.push_str(&format!(", {many} {}s", kind.name())),
            }
        }
        said
    }

    /// Why a day is closed, named days before weekdays; `None` when it is open.
    #[must_use]
    pub fn closed(&self, day: NaiveDate) -> Option<Closed<'_>> {
        let closing = self
            .closings
            .iter()
            .find(|closing| closing.begun_before(day).is_some());
        closing.map(Closed::Closing).or_else(|| {
            let at = usize::try_from(day.weekday().num_days_from_monday()).ok()?;
            let weekday = DayOfWeek::ALL.get(at).copied()?;
            (!self.working_days.contains(day.weekday())).then_some(Closed::Weekday(weekday))
        })
    }
}

impl Closed<'_> {
    /// "no working day", "public holiday Independence Day", "shut-down period Winter break".
    #[must_use]
    pub fn in_words(&self) -> String {
        match self {
            Self::Weekday(_) => "no working day".to_owned(),
            Self::Closing(closing) => format!("{} {}", closing.kind.name(), closing.name),
        }
    }
}
