//! The next due item of one check: where its due date comes from, what was missed, which one is shown.

use chrono::{Days, NaiveDate};

use super::history::{Basis, History};
use super::tenancy::{Tenancy, Vacancy};
use super::timing::{Anchor, Timing};
use super::window::Window;
use super::workdays::ClosedDays;
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
    /// The due date before it was moved; none when it was not.
    pub moved_from: Option<NaiveDate>,
}

/// Where something is due: what the place allows, beside the history.
#[derive(Debug, Clone, Copy)]
pub struct Bounds<'a> {
    /// Nothing is due before: a calendar takes its first occurrence from this day on, an interval is due no earlier.
    pub earliest: NaiveDate,
    /// The days on which the building is closed for planned work.
    pub closed: &'a ClosedDays,
    /// Who lives in the unit when.
    pub tenancy: &'a Tenancy,
}

/// The next due item in a building that is never closed, or `None` when a rule has no occurrence left.
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
    let bounds = Bounds {
        earliest: history.joined,
        closed: &ClosedDays::none(),
        tenancy: &Tenancy::default(),
    };
    next_due_within(timing, history, bounds)
}

/// As [`next_due`], within bounds. The date that comes of the history is moved as the timing says, and the whole window with it; grace
/// counts from the moved date.
///
/// - A result on or after o - early_days satisfies the occurrence o, wherever it was moved; where it was moved back, one on or after the
///   moved date - early_days does too, so that what is done in its window always counts.
/// - Back never goes before `earliest`, nor to less than half an interval after the day it counts from: it goes forward then.
/// - Not while vacant: nothing is due in a vacant unit; in a lived-in one, a date that falls between two households is that of the move-in.
/// - At turnover: due by the move-in of the turnover that is open, unless it was done since the day it was opened; nothing otherwise.
#[must_use]
pub fn next_due_within(timing: &Timing, history: &History, bounds: Bounds<'_>) -> Option<DueItem> {
    let (basis, counts_from) = history.counts_from();
    let earliest = bounds.earliest.max(history.joined);
    let waits = match timing.moving().vacancy {
        Vacancy::Any => false,
        Vacancy::NotWhileVacant if bounds.tenancy.is_vacant => return None,
        Vacancy::NotWhileVacant => true,
        Vacancy::AtTurnover => return at_turnover(history, bounds),
    };
    let moved = |day: NaiveDate, floor: NaiveDate| {
        let lived_in = if waits { bounds.tenancy.lived_in(day) } else { day };
        let floor = if lived_in > day {
            floor.max(lived_in)
        } else {
            floor
        };
        timing.moving().moved(lived_in, floor, bounds.closed)
    };
    let (from, due) = match (timing.anchor(), basis) {
        (Anchor::Calendar(rule), Basis::Joined) => {
            let day = rule.next_on_or_after(earliest)?;
            (day, moved(day, earliest))
        }
        (Anchor::Calendar(rule), _) => {
            let satisfied = counts_from.checked_add_days(Days::new(u64::from(timing.early_days())))?;
            let mut day = rule.next_on_or_after(satisfied.succ_opt()?.max(earliest))?;
            let mut due = moved(day, earliest);
            while due <= satisfied {
                day = rule.next_after(day)?;
                due = moved(day, earliest);
            }
            (day, due)
        }
        (Anchor::LastDone(interval), Basis::Joined) => {
            let day = spread(interval, history)?.max(earliest);
            (day, moved(day, earliest))
        }
        (Anchor::LastDone(interval), _) => {
            let end = interval.add_to(counts_from);
            let half = u64::try_from((end - counts_from).num_days() / 2).unwrap_or_default();
            let floor = counts_from.checked_add_days(Days::new(half.max(1)))?;
            let day = end.max(earliest);
            (day, moved(day, floor.max(earliest)))
        }
    };
    Some(DueItem {
        basis,
        counts_from,
        window: Window::around(due, timing.lead_days(), timing.grace_days()),
        moved_from: (from != due).then_some(from),
    })
}

/// What an open turnover asks; nothing when it was done, or installed, since that was opened.
fn at_turnover(history: &History, bounds: Bounds<'_>) -> Option<DueItem> {
    let turnover = bounds.tenancy.turnover?;
    let (basis, counts_from) = history.counts_from();
    let is_done = basis != Basis::Joined && counts_from >= turnover.opened_on;
    let window = turnover.window();
    let is_asked = !is_done && window.due() >= bounds.earliest.max(history.joined);
    is_asked.then_some(DueItem {
        basis,
        counts_from,
        window,
        moved_from: None,
    })
}

/// The days on which a check comes due from `today` on, when it is done on the day it is due and what is past its due date is done today;
/// the first is that of the item that stands.
///
/// ```
/// # use anglestop::domain::due::{ClosedDays, coming, read_timing};
/// let hoses = read_timing("last_done", "P6M", None, 21, 0, None)?;
/// let closed = ClosedDays::none();
/// let days: Vec<_> = coming(&hoses, "2026-02-01".parse()?, "2026-03-15".parse()?, &closed).take(3).collect();
/// assert_eq!(days, ["2026-03-15", "2026-09-15", "2027-03-15"].map(|day| day.parse().unwrap_or_default()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn coming<'a>(
    timing: &'a Timing,
    due: NaiveDate,
    today: NaiveDate,
    closed: &'a ClosedDays,
) -> impl Iterator<Item = NaiveDate> + 'a {
    std::iter::successors(Some(due.max(today)), move |done| {
        let history = History {
            done: Some(*done),
            ..History::joined(*done)
        };
        // Who will live there is not known; once at a turnover is once.
        let bounds = Bounds {
            earliest: *done,
            closed,
            tenancy: &Tenancy::default(),
        };
        next_due_within(timing, &history, bounds).map(|item| item.window.due())
    })
}

/// The first due date of a unit whose fixtures were never checked.
fn spread(interval: &Interval, history: &History) -> Option<NaiveDate> {
    let span_days = (interval.add_to(history.joined) - history.joined).num_days();
    let share_ppm = i64::from(history.spread_ppm).min(MILLION - 1);
    let offset_days = u64::try_from(span_days * share_ppm / MILLION).ok()?;
    history.joined.checked_add_days(Days::new(offset_days))
}

/// How often the check was missed by `as_of`: occurrences from the due date on whose grace, counted from where each was moved, has ended.
/// From last done it is 0 or 1, since the next one is counted from the day it will be done.
#[must_use]
pub fn missed(timing: &Timing, item: &DueItem, closed: &ClosedDays, as_of: NaiveDate) -> u32 {
    if as_of <= item.window.last_day() {
        return 0;
    }
    match timing.anchor() {
        Anchor::LastDone(_) => 1,
        Anchor::Calendar(_) if timing.moving().vacancy == Vacancy::AtTurnover => 1,
        Anchor::Calendar(rule) => {
            let grace = Days::new(u64::from(timing.grace_days()));
            let last_missed = as_of.checked_sub_days(grace).and_then(|day| day.pred_opt());
            let first = item.moved_from.unwrap_or(item.window.due());
            // What falls due while nobody lives there is one with the first after the move-in.
            let first = match timing.moving().vacancy {
                Vacancy::NotWhileVacant => first.max(item.window.due()),
                Vacancy::Any | Vacancy::AtTurnover => first,
            };
            let later = last_missed.zip(first.succ_opt()).map_or(0, |(last, next)| {
                rule.count_between(next, timing.moving().last_moved_by(last, closed))
            });
            u32::try_from(later).unwrap_or(u32::MAX).saturating_add(1)
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
