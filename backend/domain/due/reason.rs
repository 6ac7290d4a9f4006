//! Why a due date counts from the day it does, in words. It decides no date.

use chrono::NaiveDate;

use super::history::Basis;
use super::sentence::day_in_words;
use super::tenancy::Vacancy;

/// How a schedule comes round, as far as the reason for a date depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cadence {
    /// By the calendar.
    Calendar,
    /// Counted from the last time.
    LastDone,
    /// Once at each turnover.
    Turnover,
}

impl Cadence {
    /// Of a schedule with this anchor, as [`super::Anchor::code`] writes it; `None` for what is no anchor.
    #[must_use]
    pub fn of(anchor: &str, vacancy: Vacancy) -> Option<Self> {
        match (anchor, vacancy) {
            (_, Vacancy::AtTurnover) => Some(Self::Turnover),
            ("calendar", _) => Some(Self::Calendar),
            ("last_done", _) => Some(Self::LastDone),
            _ => None,
        }
    }

    /// Whether a first date is spread over the interval, so that a whole building does not come due on one day.
    #[must_use]
    pub fn spreads(self, basis: Basis) -> bool {
        self == Self::LastDone && basis == Basis::Joined
    }
}

/// "counted from Tue 3 Feb, when it was last done", "counted from Tue 15 Oct 2024, when the building joined; first date spread".
///
/// ```
/// # use anglestop::domain::due::{Basis, Cadence, counted_in_words};
/// let (from, today) = ("2024-10-15".parse()?, "2026-11-27".parse()?);
/// assert_eq!(
///     counted_in_words(Cadence::LastDone, Basis::Joined, from, today),
///     "counted from Tue 15 Oct 2024, when the building joined; first date spread"
/// );
/// assert_eq!(
///     counted_in_words(Cadence::Turnover, Basis::Done, from, today),
///     "once at the open turnover; last counted from Tue 15 Oct 2024"
/// );
/// # Ok::<(), chrono::ParseError>(())
/// ```
#[must_use]
pub fn counted_in_words(cadence: Cadence, basis: Basis, counts_from: NaiveDate, as_of: NaiveDate) -> String {
    let from = day_in_words(counts_from, as_of);
    if cadence == Cadence::Turnover {
        return match basis {
            Basis::Joined => "once at the open turnover".to_owned(),
            Basis::Done | Basis::Installed | Basis::Imported => {
                format!("once at the open turnover; last counted from {from}")
            }
        };
    }
    let why = match basis {
        Basis::Done => "when it was last done",
        Basis::Installed => "when it was installed",
        Basis::Imported => "last done according to the import",
        Basis::Joined if cadence.spreads(basis) => "when the building joined; first date spread",
        Basis::Joined => "when the building joined",
    };
    format!("counted from {from}, {why}")
}
