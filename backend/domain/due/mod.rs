//! When a check opens, is due, and is overdue: from a schedule's timing and a history of days.
//!
//! This room decides the next due date, its window, its state on a given day, what was missed, and
//! which of several schedules is shown ([`next_due`] and its kin); and, for a building's fixtures, which
//! checks are asked at all ([`Book`], [`Plan`]). It knows nothing of where facts are stored or of what
//! day it is: the caller picks the history that counts up to the day asked about, in the building's
//! own days, and passes that day in.
//!
//! - *Calendar*: doing a check on day d satisfies every occurrence o with o - early_days <= d.
//! - *From last done*: it is due one interval after d.
//! - *Never done*: counting starts on the day the building joined, and nothing is due before it.
//! - *Moved*: a due date on a closed day of the building, or out of the season that is wished for, moves with its whole window; the date
//!   before stays what satisfaction counts from ([`Moving`], [`ClosedDays`]).
//! - *Vacant*: a schedule may ask nothing while a unit is vacant, or only an open turnover ([`Vacancy`], [`Tenancy`]).
//!
//! ```
//! use anglestop::domain::due::{Anchor, Basis, History, State, Timing, next_due};
//! use anglestop::domain::recurrence::Rule;
//! use chrono::NaiveDate;
//!
//! let day = |text: &str| text.parse::<NaiveDate>();
//! // Every year on 1 October, opens 30 days before, 14 days of grace.
//! let rule = Rule::parse("FREQ=YEARLY", day("2024-10-01")?)?;
//! let timing = Timing::new(Anchor::Calendar(rule), 30, 14, None)?;
//! assert_eq!(timing.early_days(), 182); // half of 365
//!
//! let history = History { done: Some(day("2026-09-10")?), ..History::joined(day("2024-01-01")?) };
//! let item = next_due(&timing, &history).ok_or("nothing comes due")?;
//! assert_eq!(item.basis, Basis::Done);
//! assert_eq!(item.window.due(), day("2027-10-01")?); // 1 October 2026 was satisfied early
//! assert_eq!(item.window.state(day("2027-10-16")?), State::Overdue);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod book;
mod history;
pub mod impact;
mod item;
mod moving;
mod plain;
mod plan;
mod reason;
mod schedule;
mod schedule_text;
mod sentence;
mod tenancy;
mod timing;
mod window;
mod words;
mod workdays;

pub use book::{AskedCheck, Book};
pub use history::{Basis, History};
pub use item::{Bounds, DueItem, coming, earliest, missed, next_due, next_due_within};
pub use moving::{Moving, OnClosedDays, Season};
pub use plain::{DayOfWeek, Nth, Pattern, PlainText, Span};
pub use plan::{AskedBuilding, DoneDays, DueRow, Plan, Standing, StandingPart};
pub use reason::{Cadence, counted_in_words};
pub use schedule::{
    FAILURE_MONTHS, FailedDays, MOST_FAILURES, Schedule, Scope, Terms, pack_code, pack_from_code, read_timing,
};
pub use schedule_text::{Known, OLDEST_YEARS, ScheduleText};
pub use sentence::{day_in_words, due_in_words, sentence};
pub use tenancy::{OpenTurnover, Stay, Tenancy, Vacancy};
pub use timing::{Anchor, LONGEST_DAYS, Timing, TimingError};
pub use window::{State, Window};
pub use words::{Dated, WhyMoved, moved_in_words, next_dates, timing_in_words, why_moved};
pub use workdays::{
    Closed, ClosedDays, Closing, ClosingKind, ClosingText, LONGEST_CLOSING_DAYS, Repeats, WorkCalendar,
    WorkingDays, read_working_days,
};
