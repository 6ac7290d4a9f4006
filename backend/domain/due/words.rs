//! A schedule's timing as sentences: the rule, its window, and the dates that come of it.
//!
//! It decides the words. Dates are those of the rule, or of an interval that begins on the day asked about.

use chrono::{Datelike as _, NaiveDate, TimeDelta};

use crate::domain::field::capital;

use super::history::History;
use super::item::{Bounds, next_due_within};
use super::moving::{Moving, OnClosedDays, Season};
use super::sentence::day_in_words;
use super::tenancy::{Tenancy, Vacancy};
use super::timing::{Anchor, Timing};
use super::workdays::{Closed, ClosedDays};

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
        "{}. {opens}, {overdue}.{early}{}",
        capital(&timing.anchor().describe()),
        moving_in_words(timing.moving())
    )
}

/// What moves its dates, in sentences; empty when nothing does.
fn moving_in_words(moving: Moving) -> String {
    let season = match moving.season {
        None => String::new(),
        Some(season) => {
            let to = match moving.on_closed_days {
                OnClosedDays::Back => "back to the last day in season",
                OnClosedDays::Stays | OnClosedDays::Forward => "on to the first day in season",
            };
            format!(" Wished for in {}, else moved {to}.", season.in_words())
        }
    };
    let closed = match moving.on_closed_days {
        OnClosedDays::Stays => "",
        OnClosedDays::Forward => " On a day that the building is closed it moves to the next working day.",
        OnClosedDays::Back => " On a day that the building is closed it moves to the working day before.",
    };
    let vacancy = match moving.vacancy {
        Vacancy::Any => "",
        Vacancy::NotWhileVacant => {
            " Nothing is due while the unit is vacant; what fell due meanwhile is due on the day of the move-in."
        }
        Vacancy::AtTurnover => {
            " Asked once at each turnover instead, due by the day of the move-in; never otherwise."
        }
    };
    format!("{season}{closed}{vacancy}")
}

/// A date of a timing, and where it was before it was moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dated {
    /// The day it is due.
    pub day: NaiveDate,
    /// The day before it was moved; none when it was not.
    pub moved_from: Option<NaiveDate>,
}

/// The next dates from a day on: those of the rule; of an interval, those that follow when it is done on that day and then each time on
/// its due date. Occurrences that are moved to one day are one date.
#[must_use]
pub fn next_dates(timing: &Timing, from: NaiveDate, count: usize, closed: &ClosedDays) -> Vec<Dated> {
    if timing.moving().vacancy == Vacancy::AtTurnover {
        return Vec::new();
    }
    match timing.anchor() {
        Anchor::Calendar(rule) => {
            let mut dates: Vec<Dated> = Vec::new();
            let days = std::iter::successors(rule.next_on_or_after(from), |day| rule.next_after(*day));
            for day in days {
                let moved = timing.moving().moved(day, from, closed);
                if dates.last().is_none_or(|last| last.day != moved) {
                    if dates.len() == count {
                        break;
                    }
                    dates.push(dated(day, moved));
                }
            }
            dates
        }
        Anchor::LastDone(_) => {
            let next = |done: NaiveDate| {
                let history = History {
                    done: Some(done),
                    ..History::joined(done)
                };
                let bounds = Bounds {
                    earliest: done,
                    closed,
                    tenancy: &Tenancy::default(),
                };
                next_due_within(timing, &history, bounds).map(|item| Dated {
                    day: item.window.due(),
                    moved_from: item.moved_from,
                })
            };
            std::iter::successors(next(from), |date| next(date.day))
                .take(count)
                .collect()
        }
    }
}

fn dated(day: NaiveDate, moved: NaiveDate) -> Dated {
    Dated {
        day: moved,
        moved_from: (day != moved).then_some(day),
    }
}

/// Why a due date was moved from a day to another: "moved from Sat 4 Jul: public holiday Independence Day", "moved from Thu 15 Jan:
/// out of season (April to October)", "moved from Mon 2 Mar: nobody lived there", "moved from Sun 20 Dec: no working day, then shut-down
/// period Winter break" where named days follow the first closed one. A day in another year than `as_of` carries its year.
#[must_use]
pub fn moved_in_words(
    moving: Moving,
    (from, to): (NaiveDate, NaiveDate),
    closed: &ClosedDays,
    as_of: NaiveDate,
) -> String {
    let why = match why_moved(moving, (from, to), closed) {
        WhyMoved::NobodyLived => "nobody lived there".to_owned(),
        WhyMoved::OutOfSeason(season) => format!("out of season ({})", season.in_words()),
        WhyMoved::Unknown => "closed".to_owned(),
        WhyMoved::Closed(first, None) => first.in_words(),
        WhyMoved::Closed(first, Some(then)) => format!("{}, then {}", first.in_words(), then.in_words()),
    };
    format!("moved from {}: {why}", day_in_words(from, as_of))
}

/// Why a due date was moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WhyMoved<'a> {
    /// It waited until somebody moved in.
    NobodyLived,
    /// It lay out of the months that it is wished for.
    OutOfSeason(Season),
    /// Its day was closed; then the named days that it was moved over beside that, of several those that take most of the way.
    Closed(Closed<'a>, Option<Closed<'a>>),
    /// The calendar of today has no reason any more.
    Unknown,
}

/// Why a due date was moved from a day to another.
#[must_use]
pub fn why_moved<'a>(
    moving: Moving,
    (from, to): (NaiveDate, NaiveDate),
    closed: &'a ClosedDays,
) -> WhyMoved<'a> {
    let waited = moving.asks_for_tenancy() && to > from && moving.moved(from, from, closed) != to;
    let out_of_season = moving.season.filter(|season| !season.has(from.month()));
    match (waited, out_of_season) {
        (true, _) => WhyMoved::NobodyLived,
        (false, Some(season)) => WhyMoved::OutOfSeason(season),
        (false, None) => why_closed((from, to), closed),
    }
}

fn why_closed((from, to): (NaiveDate, NaiveDate), closed: &ClosedDays) -> WhyMoved<'_> {
    let calendar = closed.calendar();
    let Some(first) = calendar.closed(from) else {
        return WhyMoved::Unknown;
    };
    let way = (to - from).num_days();
    let days =
        (1..way.abs()).filter_map(|days| from.checked_add_signed(TimeDelta::days(days * way.signum())));
    let mut over: Vec<(Closed<'_>, usize)> = Vec::new();
    for cause in days.filter_map(|day| calendar.closed(day)) {
        match over.iter_mut().find(|(known, _)| *known == cause) {
            Some((_, days)) => *days += 1,
            None => over.push((cause, 1)),
        }
    }
    over.retain(|(cause, _)| *cause != first && matches!(cause, Closed::Closing(_)));
    // Of equally long ones the first on the way, which `max_by_key` would pass by.
    let longest = over.iter().rev().max_by_key(|(_, days)| *days);
    WhyMoved::Closed(first, longest.map(|(then, _)| *then))
}

fn counted(days: u32) -> String {
    if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::code::Coded as _;
    use crate::domain::due::{Closing, ClosingKind, DayOfWeek, WorkCalendar, WorkingDays};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    /// Closed at weekends, on Christmas Day and for a while around it.
    fn closed() -> ClosedDays {
        let (week, _) = DayOfWeek::ALL.split_at(5);
        let closing = |kind, name: &str, start, days| Closing {
            kind,
            name: name.to_owned(),
            start: day(start),
            rule: None,
            days,
        };
        let closings = vec![
            closing(ClosingKind::PublicHoliday, "Christmas Day", "2026-12-25", 1),
            closing(ClosingKind::ShutDown, "Painting", "2026-12-21", 14),
        ];
        let working_days = WorkingDays::of(week).unwrap_or_default();
        ClosedDays::of(
            WorkCalendar {
                working_days,
                closings,
            },
            day("2026-01-01"),
        )
    }

    fn why(on_closed_days: OnClosedDays, from: &str) -> String {
        let moving = Moving {
            on_closed_days,
            ..Moving::default()
        };
        let from = day(from);
        let to = moving.moved(from, day("2026-01-01"), &closed());
        moved_in_words(moving, (from, to), &closed(), day("2026-11-27"))
    }

    #[test]
    fn a_date_names_what_it_went_over_when_that_is_another_cause_than_the_first_day() {
        let forward = |from| why(OnClosedDays::Forward, from);
        assert_eq!(
            forward("2026-12-20"),
            "moved from Sun 20 Dec: no working day, then shut-down period Painting"
        );
        assert_eq!(
            forward("2026-12-25"),
            "moved from Fri 25 Dec: public holiday Christmas Day, then shut-down period Painting"
        );
        assert_eq!(forward("2026-12-05"), "moved from Sat 5 Dec: no working day");
        assert_eq!(
            why(OnClosedDays::Back, "2027-01-03"),
            "moved from Sun 3 Jan 2027: shut-down period Painting, then public holiday Christmas Day"
        );
    }
}
