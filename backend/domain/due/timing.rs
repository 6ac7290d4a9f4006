//! A schedule's timing: what it counts from, and how wide its windows are.
//!
//! It refuses windows that would overlap the next ones. It does not know any history.

use thiserror::Error;

use super::moving::Moving;
use crate::domain::recurrence::{Interval, Rule};

/// The largest lead, grace or early days, in days (about ten years).
pub const LONGEST_DAYS: u32 = 3_660;

/// The lead and the grace of a check that comes round seldom, in days; common practice, no source.
const USUAL_DAYS: u32 = 30;

/// What makes a check come round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Anchor {
    /// The calendar, whatever was done.
    Calendar(Rule),
    /// The last time it was done.
    LastDone(Interval),
}

impl Anchor {
    /// `calendar` or `last_done`.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Calendar(_) => "calendar",
            Self::LastDone(_) => "last_done",
        }
    }

    /// RFC 5545 rule text or ISO 8601 interval.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Calendar(rule) => rule.text().to_owned(),
            Self::LastDone(interval) => interval.to_string(),
        }
    }

    /// In words.
    #[must_use]
    pub fn describe(&self) -> String {
        match self {
            Self::Calendar(rule) => rule.describe(),
            Self::LastDone(interval) => interval.describe(),
        }
    }

    /// The fewest days from one time to the next; `None` for a rule that occurs once.
    #[must_use]
    pub fn shortest_gap_days(&self) -> Option<u32> {
        match self {
            Self::Calendar(rule) => rule.shortest_gap_days(),
            Self::LastDone(interval) => Some(interval.shortest_days()),
        }
    }
}

/// An anchor with its window; the parts fit together, so windows of one item never overlap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timing {
    anchor: Anchor,
    lead_days: u32,
    grace_days: u32,
    early_days: u32,
    moving: Moving,
}

/// Why a timing was refused.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum TimingError {
    /// Lead and grace reach the next window.
    #[error(
        "{lead_days} days of lead and {grace_days} of grace are {} days together, but it can come round again after {gap_days}: make lead and grace together at most {}",
        lead_days + grace_days,
        gap_days.saturating_sub(1)
    )]
    Overlap {
        /// As given.
        lead_days: u32,
        /// As given.
        grace_days: u32,
        /// The shortest gap.
        gap_days: u32,
    },
    /// A result within the window would not count.
    #[error(
        "{early_days} early days are fewer than the {lead_days} days of lead, so a check done when its window opens would not count: use at least {lead_days}"
    )]
    EarlyBelowLead {
        /// As given.
        early_days: u32,
        /// As given.
        lead_days: u32,
    },
    /// A calendar rule with months to wish for.
    #[error(
        "a calendar rule says its months itself: leave the season empty, or let it count from the last time"
    )]
    SeasonOfCalendar,
    /// A figure over [`LONGEST_DAYS`].
    #[error("{days} {what} are more than {LONGEST_DAYS}, the most there can be: use fewer")]
    TooLong {
        /// "days of lead", "days of grace" or "early days".
        what: &'static str,
        /// As given.
        days: u32,
    },
}

impl Timing {
    /// Puts anchor and window together.
    ///
    /// `early_days` is how long before an occurrence a result already satisfies it; without it, half
    /// the rule's shortest gap (rounded down), and never less than the lead. A rule that occurs once
    /// takes the lead. For an interval it has no effect and is the lead.
    ///
    /// # Errors
    ///
    /// When lead and grace together are not shorter than the shortest gap, when `early_days` is less
    /// than the lead, or when a figure is over [`LONGEST_DAYS`].
    pub fn new(
        anchor: Anchor,
        lead_days: u32,
        grace_days: u32,
        early_days: Option<u32>,
    ) -> Result<Self, TimingError> {
        let given = [
            ("days of lead", Some(lead_days)),
            ("days of grace", Some(grace_days)),
            ("early days", early_days),
        ];
        for (what, days) in given {
            if let Some(days) = days.filter(|days| *days > LONGEST_DAYS) {
                return Err(TimingError::TooLong { what, days });
            }
        }
        let gap = anchor.shortest_gap_days();
        if let Some(gap_days) = gap.filter(|gap| lead_days + grace_days >= *gap) {
            return Err(TimingError::Overlap {
                lead_days,
                grace_days,
                gap_days,
            });
        }
        if let Some(early_days) = early_days.filter(|early| *early < lead_days) {
            return Err(TimingError::EarlyBelowLead {
                early_days,
                lead_days,
            });
        }
        let early_days = match (&anchor, early_days) {
            (Anchor::LastDone(_), _) => lead_days,
            (Anchor::Calendar(_), Some(early)) => early,
            (Anchor::Calendar(_), None) => gap.map_or(lead_days, |gap| lead_days.max(gap / 2)),
        };
        Ok(Self {
            anchor,
            lead_days,
            grace_days,
            early_days,
            moving: Moving::default(),
        })
    }

    /// Days of lead and of grace that suit an anchor when nobody says others: a third of the shortest gap each, at most
    /// 30 (common practice, no source). They always fit together.
    ///
    /// ```
    /// # use anglestop::domain::due::{Timing, read_timing};
    /// let usual = |interval| read_timing("last_done", interval, None, 0, 0, None).map(|timing| Timing::usual_window(timing.anchor()));
    /// assert_eq!(usual("P1Y"), Ok((30, 30)));
    /// assert_eq!(usual("P1M"), Ok((9, 9)));
    /// assert_eq!(usual("P1D"), Ok((0, 0)));
    /// ```
    #[must_use]
    pub fn usual_window(anchor: &Anchor) -> (u32, u32) {
        let gap = anchor.shortest_gap_days();
        let days = gap.map_or(USUAL_DAYS, |gap| USUAL_DAYS.min(gap / 3));
        (days, days)
    }

    /// The same timing whose due dates are moved.
    ///
    /// # Errors
    ///
    /// When a calendar rule wishes for a season: its months are the rule's own.
    pub fn moved_by(self, moving: Moving) -> Result<Self, TimingError> {
        if moving.season.is_some() && matches!(self.anchor, Anchor::Calendar(_)) {
            return Err(TimingError::SeasonOfCalendar);
        }
        Ok(Self { moving, ..self })
    }

    /// What moves its due dates.
    #[must_use]
    pub fn moving(&self) -> Moving {
        self.moving
    }

    /// What it counts from.
    #[must_use]
    pub fn anchor(&self) -> &Anchor {
        &self.anchor
    }

    /// Days a window is open before the due date.
    #[must_use]
    pub fn lead_days(&self) -> u32 {
        self.lead_days
    }

    /// Days after the due date that are not yet overdue.
    #[must_use]
    pub fn grace_days(&self) -> u32 {
        self.grace_days
    }

    /// Days before an occurrence from which a result satisfies it.
    #[must_use]
    pub fn early_days(&self) -> u32 {
        self.early_days
    }
}
