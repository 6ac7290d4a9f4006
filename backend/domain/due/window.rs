//! The window of one due item and its state on a day.
//!
//! It decides where a window opens and ends and what a day within it is called. It does not know how
//! the due date was found.

use chrono::{Days, NaiveDate};

/// From the day a check may be done to the last day of grace: `opens <= due <= last_day`, always.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Window {
    opens: NaiveDate,
    due: NaiveDate,
    last_day: NaiveDate,
}

/// Where a day stands against a window. The order is that of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum State {
    /// Before the window opens.
    Later,
    /// From the day it opens to the day before it is due.
    InWindow,
    /// From the due date to the last day of grace.
    Due,
    /// After the last day of grace.
    Overdue,
}

impl Window {
    /// The window around a due date.
    #[must_use]
    pub fn around(due: NaiveDate, lead_days: u32, grace_days: u32) -> Self {
        Self {
            opens: due
                .checked_sub_days(Days::new(u64::from(lead_days)))
                .unwrap_or(NaiveDate::MIN),
            due,
            last_day: due
                .checked_add_days(Days::new(u64::from(grace_days)))
                .unwrap_or(NaiveDate::MAX),
        }
    }

    /// The window of three stored days; `None` when they are out of order.
    #[must_use]
    pub fn from_days(opens: NaiveDate, due: NaiveDate, last_day: NaiveDate) -> Option<Self> {
        (opens <= due && due <= last_day).then_some(Self { opens, due, last_day })
    }

    /// The first day the check can be done for this due date: due - lead.
    #[must_use]
    pub fn opens(&self) -> NaiveDate {
        self.opens
    }

    /// The due date.
    #[must_use]
    pub fn due(&self) -> NaiveDate {
        self.due
    }

    /// The last day of grace: due + grace.
    #[must_use]
    pub fn last_day(&self) -> NaiveDate {
        self.last_day
    }

    /// The state on a day.
    #[must_use]
    pub fn state(&self, as_of: NaiveDate) -> State {
        if as_of < self.opens {
            State::Later
        } else if as_of < self.due {
            State::InWindow
        } else if as_of <= self.last_day {
            State::Due
        } else {
            State::Overdue
        }
    }

    /// Days past the last day of grace; 0 until then.
    #[must_use]
    pub fn days_overdue(&self, as_of: NaiveDate) -> u32 {
        days_from(self.last_day, as_of)
    }
}

/// Days from one day to a later one, else 0.
pub(super) fn days_from(from: NaiveDate, to: NaiveDate) -> u32 {
    u32::try_from((to - from).num_days()).unwrap_or(0)
}

impl State {
    /// Every state, in the order of time.
    pub const ALL: [Self; 4] = [Self::Later, Self::InWindow, Self::Due, Self::Overdue];

    /// The word used in addresses, CSV, JSON and on the command line.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Later => "later",
            Self::InWindow => "in_window",
            Self::Due => "due",
            Self::Overdue => "overdue",
        }
    }

    /// The state with this code.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.code() == code)
    }
}
