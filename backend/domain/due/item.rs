//! The next due item of one check: where its due date comes from, what was missed, which one is shown.

use chrono::{Days, NaiveDate};

use super::history::{Basis, History};
use super::timing::{Anchor, Timing};
use super::window::Window;
use crate::domain::recurrence::Interval;

/// The parts of a whole the spread is counted in.
const MILLION: i64 = 1_000_000;

/// One check that is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DueItem {
    /// Why it counts from that day.
    pub basis: Basis,
    /// The day it counts from.
    pub counts_from: NaiveDate,
    /// When it opens, is due and ends.
    pub window: Window,
}

/// The next due item, or `None` when a rule has no occurrence left.
///
/// - Calendar: due is the first occurrence o with o - early_days after the day it counts from; never
///   done, the first occurrence on or after the day the building joined.
/// - From last done: due is one interval after the day it counts from; never done, spread over the
///   interval that begins on the day the building joined, by the unit's place in the spread.
/// - Nothing is due before the building joined. Where an imported day would make it so, a calendar
///   takes its first occurrence from that day on, and an interval is due on that very day: it is known
///   to be late, so it is not spread.
#[must_use]
pub fn next_due(timing: &Timing, history: &History) -> Option<DueItem> {
    next_due_from(timing, history, history.joined)
}

/// As [`next_due`], with a first day before which nothing is due, such as the day a minimum age is
/// reached: a calendar takes its first occurrence from that day on, an interval is due no earlier.
#[must_use]
pub fn next_due_from(timing: &Timing, history: &History, earliest: NaiveDate) -> Option<DueItem> {
    let (basis, counts_from) = history.counts_from();
    let earliest = earliest.max(history.joined);
    let due = match (timing.anchor(), basis) {
        (Anchor::Calendar(rule), Basis::Joined) => rule.next_on_or_after(earliest)?,
        (Anchor::Calendar(rule), _) => {
            let satisfied = counts_from.checked_add_days(Days::new(u64::from(timing.early_days())))?;
            rule.next_on_or_after(satisfied.succ_opt()?.max(earliest))?
        }
        (Anchor::LastDone(interval), Basis::Joined) => spread(interval, history)?.max(earliest),
        (Anchor::LastDone(interval), _) => interval.add_to(counts_from).max(earliest),
    };
    let window = Window::around(due, timing.lead_days(), timing.grace_days());
    Some(DueItem {
        basis,
        counts_from,
        window,
    })
}

/// The days on which a check comes due from `today` on, when it is done on the day it is due and what is past its due date is done today;
/// the first is that of the item that stands.
///
/// ```
/// # use anglestop::domain::due::{coming, read_timing};
/// let hoses = read_timing("last_done", "P6M", None, 21, 0, None)?;
/// let days: Vec<_> = coming(&hoses, "2026-02-01".parse()?, "2026-03-15".parse()?).take(3).collect();
/// assert_eq!(days, ["2026-03-15", "2026-09-15", "2027-03-15"].map(|day| day.parse().unwrap_or_default()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn coming(timing: &Timing, due: NaiveDate, today: NaiveDate) -> impl Iterator<Item = NaiveDate> + '_ {
    std::iter::successors(Some(due.max(today)), |done| match timing.anchor() {
        Anchor::LastDone(interval) => Some(interval.add_to(*done)),
        Anchor::Calendar(rule) => {
            let satisfied = done.checked_add_days(Days::new(u64::from(timing.early_days())))?;
            rule.next_on_or_after(satisfied.succ_opt()?)
        }
    })
}

/// The first due date of a unit whose fixtures were never checked.
fn spread(interval: &Interval, history: &History) -> Option<NaiveDate> {
    let span_days = (interval.add_to(history.joined) - history.joined).num_days();
    let share_ppm = i64::from(history.spread_ppm).min(MILLION - 1);
    let offset_days = u64::try_from(span_days * share_ppm / MILLION).ok()?;
    history.joined.checked_add_days(Days::new(offset_days))
}

/// How often the check was missed by `as_of`: occurrences from the due date on whose grace has ended.
/// From last done it is 0 or 1, since the next one is counted from the day it will be done.
#[must_use]
pub fn missed(timing: &Timing, window: &Window, as_of: NaiveDate) -> u32 {
    if as_of <= window.last_day() {
        return 0;
    }
    match timing.anchor() {
        Anchor::LastDone(_) => 1,
        Anchor::Calendar(rule) => {
            let grace = Days::new(u64::from(timing.grace_days()));
            let last_missed = as_of.checked_sub_days(grace).and_then(|day| day.pred_opt());
            let occurrences = last_missed.map_or(0, |last| rule.count_between(window.due(), last));
            u32::try_from(occurrences).unwrap_or(u32::MAX)
        }
    }
}

/// The one that is shown when several schedules ask for the same check: the earliest last day, then
/// the earliest due date, then the first code in byte order.
///
/// ```
/// # use anglestop::domain::due::{Window, earliest};
/// let yearly = ("YEARLY", Window::around("2026-05-01".parse()?, 30, 30));
/// let monthly = ("MONTHLY", Window::around("2026-05-20".parse()?, 5, 3));
/// let shown = earliest([yearly, monthly], |(code, window)| (*window, code));
/// assert_eq!(shown, Some(monthly)); // its last day is 23 May, the other's 31 May
/// # Ok::<(), chrono::ParseError>(())
/// ```
pub fn earliest<T>(
    candidates: impl IntoIterator<Item = T>,
    facts: impl Fn(&T) -> (Window, &str),
) -> Option<T> {
    candidates.into_iter().min_by(|a, b| {
        let ((window_a, code_a), (window_b, code_b)) = (facts(a), facts(b));
        let order = |window: Window| (window.last_day(), window.due());
        order(window_a)
            .cmp(&order(window_b))
            .then_with(|| code_a.cmp(code_b))
    })
}
