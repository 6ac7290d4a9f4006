//! A schedule's timing as sentences: the rule, its window, and the dates that come of it.
//!
//! It decides the words. Dates are those of the rule, or of an interval that begins on the day asked about.

use chrono::NaiveDate;

use crate::domain::field::capital;

use super::timing::{Anchor, Timing};

/// "every year on 1 October. Opens 30 days before, overdue after 14 days of grace. A result counts from 182 days before." The first
/// letter is a capital.
///
/// ```
/// # use anglestop::domain::due::{read_timing, timing_in_words};
/// let hoses = read_timing("last_done", "P6M", None, 21, 0, None)?;
/// assert_eq!(
///     timing_in_words(&hoses),
///     "Every 6 months, counted from the last time. Opens 21 days before, overdue the day after."
/// );
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn timing_in_words(timing: &Timing) -> String {
    let opens = match timing.lead_days() {
        0 => "Opens on its day".to_owned(),
        days => format!("Opens {} before", counted(days)),
    };
    let overdue = match timing.grace_days() {
        0 => "overdue the day after".to_owned(),
        days => format!("overdue after {} of grace", counted(days)),
    };
    let early = match timing.anchor() {
        Anchor::Calendar(_) if timing.early_days() > 0 => {
            format!(" A result counts from {} before.", counted(timing.early_days()))
        }
        Anchor::Calendar(_) | Anchor::LastDone(_) => String::new(),
    };
    format!(
        "{}. {opens}, {overdue}.{early}",
        capital(&timing.anchor().describe())
    )
}

/// The next dates from a day on: those of the rule; of an interval, those that follow when it is done on that day and then each time on
/// its due date.
#[must_use]
pub fn next_dates(timing: &Timing, from: NaiveDate, count: usize) -> Vec<NaiveDate> {
    let first = match timing.anchor() {
        Anchor::Calendar(rule) => rule.next_on_or_after(from),
        Anchor::LastDone(interval) => Some(interval.add_to(from)),
    };
    std::iter::successors(first, |day| match timing.anchor() {
        Anchor::Calendar(rule) => rule.next_after(*day),
        Anchor::LastDone(interval) => Some(interval.add_to(*day)),
    })
    .take(count)
    .collect()
}

fn counted(days: u32) -> String {
    if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}
