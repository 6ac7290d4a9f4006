//! Where a due date goes that falls on a closed day or out of season.
//!
//! It decides the direction and how far one looks. The date before it was moved stays what a calendar's satisfaction counts from, so that a
//! rule never drifts.

use chrono::{Datelike, Days, Months, NaiveDate};

use super::tenancy::Vacancy;
use super::workdays::ClosedDays;
use crate::domain::code::words;
use crate::domain::recurrence::MONTHS;

/// How far a date is moved at most, days.
const FARTHEST_DAYS: u16 = 366;

words! {
    /// What a due date does on a day that the building is closed.
    OnClosedDays "way to treat a closed day" {
        Stays = "stays", "It stays where it is";
        Forward = "forward", "It moves to the next working day";
        Back = "back", "It moves to the working day before";
    }
}

/// Months that due dates keep to; at least one and not all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Season(u16);

impl Season {
    /// These months, 1 to 12; `None` when there is none of them, or all.
    #[must_use]
    pub fn of(months: impl IntoIterator<Item = u32>) -> Option<Self> {
        let months = months.into_iter().filter(|month| (1..=12).contains(month));
        let mask = months.fold(0_u16, |mask, month| mask | 1 << (month - 1));
        (mask != 0 && mask != 0xFFF).then_some(Self(mask))
    }

    /// Whether a month, 1 to 12, is one of them.
    #[must_use]
    pub fn has(self, month: u32) -> bool {
        (1..=12).contains(&month) && self.0 >> (month - 1) & 1 == 1
    }

    /// The months, 1 to 12.
    pub fn months(self) -> impl Iterator<Item = u32> {
        (1..=12).filter(move |month| self.has(*month))
    }

    /// As files write them: `4 5 6`.
    #[must_use]
    pub fn codes(self) -> String {
        let months: Vec<String> = self.months().map(|month| month.to_string()).collect();
        months.join(" ")
    }

    /// "April to October", "November to February", "March and June".
    #[must_use]
    pub fn in_words(self) -> String {
        let name = |month: u32| {
            let at = usize::try_from(month - 1).ok();
            at.and_then(|at| MONTHS.get(at)).copied().unwrap_or_default()
        };
        let runs: Vec<String> = self
            .runs()
            .into_iter()
            .map(|(first, last)| match last {
                _ if last == first => name(first).to_owned(),
                _ if last == first % 12 + 1 => format!("{} and {}", name(first), name(last)),
                _ => format!("{} to {}", name(first), name(last)),
            })
            .collect();
        runs.join(", ")
    }

    /// The first and the last month of each run around the year; the one that goes over its end begins before.
    #[must_use]
    pub fn runs(self) -> Vec<(u32, u32)> {
        let before = |month: u32| if month == 1 { 12 } else { month - 1 };
        let after = |month: u32| month % 12 + 1;
        let firsts = self.months().filter(|month| !self.has(before(*month)));
        firsts
            .map(|first| {
                let mut last = first;
                while self.has(after(last)) {
                    last = after(last);
                }
                (first, last)
            })
            .collect()
    }
}

/// Whether one looks beyond the end of the season that a day is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SeasonEnd {
    Halt,
    Pass,
}

/// What may move a due date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Moving {
    /// On a closed day.
    pub on_closed_days: OnClosedDays,
    /// Out of season; none for the whole year.
    pub season: Option<Season>,
    /// In a vacant unit.
    pub vacancy: Vacancy,
}

impl Default for Moving {
    fn default() -> Self {
        Self {
            on_closed_days: OnClosedDays::Stays,
            season: None,
            vacancy: Vacancy::Any,
        }
    }
}

impl Moving {
    /// Whether it asks for closed days at all.
    #[must_use]
    pub fn asks_for_closed_days(self) -> bool {
        self.on_closed_days != OnClosedDays::Stays
    }

    /// Whether it asks who lives in a unit when.
    #[must_use]
    pub fn asks_for_tenancy(self) -> bool {
        self.vacancy != Vacancy::Any
    }

    /// Where a due date goes: to the nearest day in season that is open, in the direction that was chosen; back never before `floor`, and
    /// forward where that would be needed. A closed day never costs the season that a date is in: where the direction leads out of it, it
    /// goes the other way. Where no day fits within a year, closed days are not looked at; where none fits then, it stays.
    #[must_use]
    pub fn moved(self, day: NaiveDate, floor: NaiveDate, closed: &ClosedDays) -> NaiveDate {
        if self.season.is_none() && !self.asks_for_closed_days() {
            return day;
        }
        let is_open = |day: NaiveDate| !self.asks_for_closed_days() || !closed.is_closed(day);
        self.nearest(day, floor, is_open)
            .or_else(|| self.nearest(day, floor, |_| true))
            .unwrap_or(day)
    }

    fn nearest(
        self,
        day: NaiveDate,
        floor: NaiveDate,
        is_open: impl Fn(NaiveDate) -> bool,
    ) -> Option<NaiveDate> {
        let forward = |end| self.forward_from(day, end, &is_open);
        let back = |end| self.back_from(day, floor, end, &is_open);
        let within = match self.on_closed_days {
            _ if self.season.is_none() => None,
            OnClosedDays::Back => back(SeasonEnd::Halt).or_else(|| forward(SeasonEnd::Halt)),
            OnClosedDays::Stays | OnClosedDays::Forward => {
                forward(SeasonEnd::Halt).or_else(|| back(SeasonEnd::Halt))
            }
        };
        within.or_else(|| match self.on_closed_days {
            OnClosedDays::Back => back(SeasonEnd::Pass).or_else(|| forward(SeasonEnd::Pass)),
            OnClosedDays::Stays | OnClosedDays::Forward => forward(SeasonEnd::Pass),
        })
    }

    fn in_season(self, day: NaiveDate) -> bool {
        self.season.is_none_or(|season| season.has(day.month()))
    }

    /// The first day from `day` on that fits.
    fn forward_from(
        self,
        day: NaiveDate,
        end: SeasonEnd,
        is_open: impl Fn(NaiveDate) -> bool,
    ) -> Option<NaiveDate> {
        let mut at = day;
        while (at - day).num_days() <= i64::from(FARTHEST_DAYS) {
            if !self.in_season(at) {
                if end == SeasonEnd::Halt {
                    return None;
                }
                at = at.with_day(1)?.checked_add_months(Months::new(1))?;
            } else if is_open(at) {
                return Some(at);
            } else {
                at = at.succ_opt()?;
            }
        }
        None
    }

    /// The last day up to `day` that fits, not before `floor`.
    fn back_from(
        self,
        day: NaiveDate,
        floor: NaiveDate,
        end: SeasonEnd,
        is_open: impl Fn(NaiveDate) -> bool,
    ) -> Option<NaiveDate> {
        let mut at = day;
        while at >= floor && (day - at).num_days() <= i64::from(FARTHEST_DAYS) {
            if !self.in_season(at) {
                if end == SeasonEnd::Halt {
                    return None;
                }
                at = at.with_day(1)?.checked_sub_days(Days::new(1))?;
            } else if is_open(at) {
                return Some(at);
            } else {
                at = at.pred_opt()?;
            }
        }
        None
    }

    /// The last day, in the order of the calendar, whose due date lies on or before `last` once it was moved; ages and floors aside.
    pub(super) fn last_moved_by(self, last: NaiveDate, closed: &ClosedDays) -> NaiveDate {
        match self.on_closed_days {
            OnClosedDays::Stays => Some(last),
            OnClosedDays::Forward => closed.open_on_or_before(last, FARTHEST_DAYS),
            OnClosedDays::Back => last
                .succ_opt()
                .and_then(|next| closed.open_on_or_after(next, FARTHEST_DAYS))
                .and_then(|open| open.pred_opt()),
        }
        .unwrap_or(last)
    }
}
