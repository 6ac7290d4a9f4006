//! Turnovers on a calendar: each a line from move-out to move-in with the marks of its stages, on weeks that all lines of a page share.
//! The head names months and weeks once; a line is drawn for each row of a table, whose words say the same. It decides no stage and no day.

use chrono::{Datelike, Days, NaiveDate};

use super::ink::{Anchor, Area, Ink, number};
use crate::language::Language;

const WIDTH: f64 = 620.0;
const HEAD: f64 = 34.0;
const HEIGHT: f64 = 26.0;
const BASE: f64 = 13.0;
/// Half of a mark, and the least way between two, so that the marks of a short turnover can be told apart.
const MARK: f64 = 4.5;
const LEAST_APART: f64 = 13.0;
/// Days that may lie before and after today; what is beyond ends in an arrow.
const DAYS_BEFORE: u64 = 42;
const DAYS_AFTER: u64 = 84;
const STAGES: u32 = 4;

/// The weeks that are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Calendar {
    from: NaiveDate,
    weeks: u32,
    today: NaiveDate,
}

/// A turnover on the calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnoverLine {
    /// The same in words.
    pub title: String,
    /// Local date of the move-out.
    pub move_out: NaiveDate,
    /// Local date of the move-in, not before the move-out.
    pub move_in: NaiveDate,
    /// How many of found, repaired, ready and moved in are reached, 0 to 4.
    pub reached: u32,
    /// The local date there, which may be another than the calendar's.
    pub today: NaiveDate,
}

impl Calendar {
    /// The weeks from Monday to Sunday that hold today, the week after, and these turnovers as far as that is near.
    #[must_use]
    pub fn around(today: NaiveDate, spans: impl IntoIterator<Item = (NaiveDate, NaiveDate)>) -> Self {
        let (mut first, mut last) = (today, today + Days::new(7));
        for (out, back) in spans {
            first = first.min(out);
            last = last.max(back);
        }
        let first = first.max(today - Days::new(DAYS_BEFORE));
        let last = last.min(today + Days::new(DAYS_AFTER));
        let from = first - Days::new(u64::from(first.weekday().num_days_from_monday()));
        let days = (last - from).num_days() + 1;
        Self {
            from,
            weeks: u32::try_from(days.div_euclid(7) + i64::from(days.rem_euclid(7) > 0)).unwrap_or(1),
            today,
        }
    }

    fn day_width(&self) -> f64 {
        WIDTH / f64::from(self.weeks * 7)
    }

    /// Where the middle of a day stands; beyond the edges for a day that is not shown.
    fn at(&self, day: NaiveDate) -> f64 {
        let days = i32::try_from((day - self.from).num_days()).unwrap_or(i32::MAX);
        (f64::from(days) + 0.5) * self.day_width()
    }

    /// Where a day begins.
    fn left_of(&self, day: NaiveDate) -> f64 {
        self.at(day) - self.day_width() / 2.0
    }

    fn mondays(&self) -> impl Iterator<Item = NaiveDate> {
        let from = self.from;
        (0..u64::from(self.weeks)).map(move |week| from + Days::new(week * 7))
    }

    fn rules(&self, ink: &mut Ink, height: f64) {
        for monday in self.mondays() {
            let x = self.left_of(monday);
            ink.line("day", (x, 0.0), (x, height));
        }
    }
}

/// The head: months named where they begin, the day of the month of each Monday, and today's mark.
#[must_use]
pub fn turnover_calendar(calendar: &Calendar, language: Language) -> String {
    let last = calendar.from + Days::new(u64::from(calendar.weeks) * 7 - 1);
    let title = language
        .say("turnover-calendar")
        .with("weeks", calendar.weeks)
        .with("from-day", calendar.from.day())
        .with("from-month", language.month(calendar.from))
        .with("to-day", last.day())
        .with("to-month", language.month(last))
        .with("year", last.year().to_string())
        .with("today", language.day(calendar.today, calendar.today))
        .to_string();
    let mut ink = Ink::image("turnover-calendar", WIDTH, HEAD, &title);
    let week = calendar.day_width() * 7.0;
    // A number a week only where it has room.
    let every = (26.0 / week).ceil().max(1.0);
    let mut place = 0.0;
    for monday in calendar.mondays() {
        let x = calendar.left_of(monday);
        ink.line("day", (x, 16.0), (x, HEAD));
        if place % every == 0.0 {
            let day = monday.day().to_string();
            ink.text("soft", (x + 3.0, 30.0), 12.0, Anchor::Start, &day);
        }
        place += 1.0;
    }
    // A month is named where it begins, the one before it only when it has room beside the next; the first name has the year.
    let begins = |day: &NaiveDate| day.day() == 1 && *day > calendar.from;
    let starts: Vec<NaiveDate> = std::iter::once(calendar.from)
        .chain(
            calendar
                .from
                .iter_days()
                .take_while(|day| *day <= last)
                .filter(begins),
        )
        .collect();
    let mut is_first = true;
    for (at, day) in starts.iter().enumerate() {
        let x = calendar.left_of(*day);
        let room = starts.get(at + 1).map_or(WIDTH, |next| calendar.left_of(*next)) - x;
        if begins(day) {
            ink.line("thin", (x, 2.0), (x, 16.0));
        }
        if room > if is_first { 62.0 } else { 30.0 } {
            let month = language.month(*day);
            let name = if is_first || day.month() == 1 {
                format!("{month} {}", day.year())
            } else {
                month
            };
            ink.text("bold", (x + 3.0, 12.0), 13.0, Anchor::Start, &name);
            is_first = false;
        }
    }
    let x = calendar.at(calendar.today);
    ink.path(
        "today-mark",
        &format!("M{} 20H{}L{} 29Z", number(x - 5.0), number(x + 5.0), number(x)),
    );
    ink.line("today", (x, 28.0), (x, HEAD));
    ink.finish()
}

/// The line of one turnover: a square for each stage, filled when it is reached, the first on the move-out, the last on the move-in; hatched from
/// the move-in to today when that is past; today's tick.
#[must_use]
pub fn turnover_line(calendar: &Calendar, line: &TurnoverLine) -> String {
    let mut ink = Ink::image("turnover-line", WIDTH, HEIGHT, &line.title);
    calendar.rules(&mut ink, HEIGHT);
    let (left, right) = (MARK + 1.0, WIDTH - MARK - 1.0);
    let (out, back) = (calendar.at(line.move_out), calendar.at(line.move_in));
    let apart = ((back - out) / f64::from(STAGES - 1)).max(LEAST_APART);
    let stage = |stage: u32| out + f64::from(stage) * apart;
    let end = stage(STAGES - 1);
    let today = calendar.at(line.today);
    if line.reached < STAGES && line.today > line.move_in {
        let over = Area {
            x: end.clamp(left, right),
            y: BASE - MARK,
            width: (today - end.clamp(left, right)).max(0.0),
            height: 2.0 * MARK,
        };
        ink.hatch("hatch", over, 4.0);
    }
    let clamp = |x: f64| x.clamp(left, right);
    ink.line("faint", (clamp(out), BASE), (clamp(end), BASE));
    if line.reached > 1 {
        ink.line(
            "line",
            (clamp(out), BASE),
            (clamp(stage(line.reached.min(STAGES) - 1)), BASE),
        );
    }
    if out < left {
        ink.path(
            "line",
            &format!("M{} {}l-5 5l5 5", number(left + 4.0), number(BASE - 5.0)),
        );
    }
    if end > right {
        ink.path(
            "line",
            &format!("M{} {}l5 5l-5 5", number(right - 4.0), number(BASE - 5.0)),
        );
    }
    for one in 0..STAGES {
        let x = stage(one);
        if (left..=right).contains(&x) {
            let class = if one < line.reached { "mark" } else { "point" };
            let square = Area {
                x: x - MARK,
                y: BASE - MARK,
                width: 2.0 * MARK,
                height: 2.0 * MARK,
            };
            ink.rect(class, square);
        }
    }
    ink.line("today", (today, 0.0), (today, HEIGHT));
    ink.finish()
}
