//! The window line: the time around today as a thin line, with a bracket where the window opens, a notch at the due date,
//! an end stroke at the last day and a tall tick for today, which stands at the same place in every row of a list.
//!
//! Distances are to scale, but the *order* always shows, however short the distance: whatever is before today stands at least
//! a few units left of the tick, whatever is after it right, and one day over already shows a hatch of its own. It decides
//! nothing about states; the four days come in and are only compared.

use std::sync::Arc;

use chrono::NaiveDate;

use super::ink::{Anchor, Area, Ink, number};
use crate::domain::due::{State, Window};
use crate::kept::Kept;
use crate::language::Language;

const WIDTH: f64 = 220.0;
const HEIGHT: f64 = 20.0;
const BASE: f64 = 10.0;
const TODAY: f64 = 142.0;
/// Where marks stop and arrows begin.
const LEFT: f64 = 8.0;
const RIGHT: f64 = 212.0;
/// Least distance of the bracket and the end stroke from today's tick.
const GAP: f64 = 5.0;
/// Least distance of the notch from today's tick when it is another day.
const NOTCH_GAP: f64 = 7.0;
/// Least width of the hatch: one day over.
const HATCH_MIN: f64 = 10.0;
/// Least width of the window itself.
const WINDOW_MIN: f64 = 5.0;

/// A due item's window and the days around today that the line spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct WindowLine {
    /// Opens, due, last day.
    pub window: Window,
    /// The building's local date that the line is drawn for.
    pub as_of: NaiveDate,
    /// Days from the left to the right end, at least 1; [`SPAN_DAYS`] suits yearly and half-yearly checks.
    pub span_days: u32,
    /// In which its title says the same.
    pub language: Language,
}

/// Days that a line spans on pages: about three months back and two ahead.
pub const SPAN_DAYS: u32 = 150;

impl WindowLine {
    /// The line on pages, said in English.
    #[must_use]
    pub fn new(window: Window, as_of: NaiveDate) -> Self {
        Self {
            window,
            as_of,
            span_days: SPAN_DAYS,
            language: Language::ENGLISH,
        }
    }

    /// The same, said in a language.
    #[must_use]
    pub fn read_in(self, language: Language) -> Self {
        Self { language, ..self }
    }

    fn title(&self) -> String {
        let day = |day| self.language.day(day, self.as_of);
        let said = self
            .language
            .say("window-days")
            .with("opens", day(self.window.opens()))
            .with("due", day(self.window.due()));
        let days = said.with("last", day(self.window.last_day())).to_string();
        // Of a window that has not opened, the state is the day it opens.
        match self.window.state(self.as_of) {
            State::Later => days,
            State::InWindow | State::Due | State::Overdue => {
                format!("{}; {days}", self.language.due(&self.window, self.as_of))
            }
        }
    }
}

/// Where the three marks stand, before they are cut at the ends of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Marks {
    bracket: f64,
    notch: f64,
    end: f64,
    days_over: u32,
}

fn marks(line: &WindowLine) -> Marks {
    let per_day = WIDTH / f64::from(line.span_days.max(1));
    let days = |day: NaiveDate| (day - line.as_of).num_days();
    let at = |days: i64| TODAY + days_to_units(days) * per_day;
    let (opens, due, last) = (
        days(line.window.opens()),
        days(line.window.due()),
        days(line.window.last_day()),
    );

    // A day is a cell one day wide around its centre: the window opens at the start of its cell and ends at the end of it.
    let mut bracket = at(opens) - per_day / 2.0;
    let mut notch = at(due);
    let mut end = at(last) + per_day / 2.0;
    if last < 0 {
        end = end.min(TODAY - HATCH_MIN);
        notch = notch.min(end);
        bracket = bracket.min(notch).min(end - WINDOW_MIN);
    } else if opens > 0 {
        bracket = bracket.max(TODAY + GAP);
        notch = notch.max(bracket);
        end = end.max(notch).max(bracket + WINDOW_MIN);
    } else {
        bracket = bracket.min(TODAY - GAP);
        end = end.max(TODAY + GAP);
        notch = match due {
            0 => TODAY,
            after if after > 0 => notch.max(TODAY + NOTCH_GAP),
            _ => notch.min(TODAY - NOTCH_GAP),
        };
        bracket = bracket.min(notch);
        end = end.max(notch);
    }
    Marks {
        bracket,
        notch,
        end,
        days_over: line.window.days_overdue(line.as_of),
    }
}

/// Days as units of drawing; a span beyond a few centuries is cut, which no reader can see.
fn days_to_units(days: i64) -> f64 {
    f64::from(i32::try_from(days.clamp(-200_000, 200_000)).unwrap_or(0))
}

/// A line with the words that stand beside it.
#[derive(Debug)]
pub struct SaidLine {
    /// The drawing.
    pub svg: String,
    /// Where the window stands.
    pub words: String,
    /// The due date.
    pub due: String,
}

/// Lines that were drawn and said before, at about 1 kB each; a list shows the same ones again and again until the date changes.
static DRAWN: Kept<WindowLine, Arc<SaidLine>> = Kept::new(4_000);

/// As [`window_line`], with its words, drawn and said once for each language.
#[must_use]
pub fn kept_window_line(line: &WindowLine) -> Arc<SaidLine> {
    DRAWN.get(line).unwrap_or_else(|| {
        let said = Arc::new(SaidLine {
            svg: window_line(line),
            words: line.language.due(&line.window, line.as_of),
            due: line.language.due_on(&line.window, line.as_of),
        });
        DRAWN.put(*line, Arc::clone(&said));
        said
    })
}

/// Draws the line. Its title says the same in words.
#[must_use]
pub fn window_line(line: &WindowLine) -> String {
    let Marks {
        bracket,
        notch,
        end,
        days_over,
    } = marks(line);
    let mut ink = Ink::image("window-line", WIDTH, HEIGHT, &line.title());
    ink.line("faint", (0.0, BASE), (TODAY, BASE));
    if days_over == 0 {
        ink.line("faint", (TODAY, BASE), (WIDTH, BASE));
    } else {
        let from = end.max(LEFT);
        let area = Area {
            x: from,
            y: BASE - 4.5,
            width: TODAY - from,
            height: 9.0,
        };
        ink.hatch("hatch", area, 4.0);
        ink.text(
            "wrong bold",
            (TODAY + 7.0, BASE + 4.5),
            13.0,
            Anchor::Start,
            &format!("+{days_over}"),
        );
    }
    let (shown_from, shown_to) = (bracket.max(LEFT), end.min(RIGHT));
    if shown_from < shown_to {
        ink.line("line", (shown_from, BASE), (shown_to, BASE));
    }
    if bracket < LEFT {
        ink.path("mark", "M0 10L8 6V14Z");
    } else if bracket <= RIGHT {
        ink.path(
            "line",
            &format!("M{0} 4H{1}V16H{0}", number(bracket + 4.0), number(bracket)),
        );
    }
    if end > RIGHT {
        ink.path("mark", "M220 10L212 6V14Z");
    } else if end >= LEFT {
        ink.line("line", (end, 4.0), (end, 16.0));
    }
    ink.line("today", (TODAY, 0.0), (TODAY, HEIGHT));
    if (LEFT..=RIGHT).contains(&notch) {
        ink.path(
            "mark",
            &format!(
                "M{} 2H{}L{} 9Z",
                number(notch - 4.5),
                number(notch + 4.5),
                number(notch)
            ),
        );
    }
    ink.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line around 25 Nov 2026 whose days are given as distances from it.
    fn line(opens: i64, due: i64, last: i64) -> WindowLine {
        let as_of = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap_or_default();
        let day = |days| as_of + chrono::Duration::days(days);
        let window = Window::from_days(day(opens), day(due), day(last));
        WindowLine::new(window.unwrap_or(Window::around(as_of, 0, 0)), as_of)
    }

    #[test]
    fn one_day_over_shows_a_hatch_and_the_last_day_none() {
        let last_day = window_line(&line(-30, -14, 0));
        let one_over = window_line(&line(-31, -15, -1));
        assert!(!last_day.contains("class=\"hatch\""), "{last_day}");
        assert!(
            one_over.contains("class=\"hatch\"") && one_over.contains(">+1<"),
            "{one_over}"
        );
    }

    #[test]
    fn the_end_stroke_stands_right_of_today_on_the_last_day_and_left_of_it_a_day_later() {
        assert!(marks(&line(-30, -14, 0)).end >= TODAY + GAP);
        assert!(marks(&line(-31, -15, -1)).end <= TODAY - HATCH_MIN);
    }

    #[test]
    fn marks_keep_their_order_for_every_near_window() {
        for opens in -40..40 {
            for lead in 0..12 {
                for grace in 0..12 {
                    let drawn = marks(&line(opens, opens + lead, opens + lead + grace));
                    assert!(
                        drawn.bracket <= drawn.notch && drawn.notch <= drawn.end,
                        "{opens} {lead} {grace}: {drawn:?}"
                    );
                    assert_eq!(
                        drawn.bracket < TODAY,
                        opens <= 0,
                        "{opens} {lead} {grace}: {drawn:?}"
                    );
                    assert_eq!(
                        drawn.end > TODAY,
                        opens + lead + grace >= 0,
                        "{opens} {lead} {grace}: {drawn:?}"
                    );
                    assert!(
                        drawn.end - drawn.bracket >= WINDOW_MIN,
                        "{opens} {lead} {grace}: {drawn:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn what_lies_outside_the_line_becomes_an_arrow() {
        let long_over = window_line(&line(-700, -680, -660));
        assert!(
            long_over.contains("M0 10L8 6V14Z") && long_over.contains(">+660<"),
            "{long_over}"
        );
        let far_ahead = window_line(&line(200, 214, 228));
        assert!(
            far_ahead.contains("M220 10L212 6V14Z") && !far_ahead.contains("class=\"line\""),
            "{far_ahead}"
        );
    }

    #[test]
    fn the_title_says_the_same_as_the_words_and_names_the_days() {
        let drawn = window_line(&line(-47, -26, -12));
        let title = "<title>12 days over; opens Fri 9 Oct, due Fri 30 Oct, last day Fri 13 Nov</title>";
        assert!(drawn.contains(title), "{drawn}");
        let later = window_line(&line(8, 38, 52));
        let title = "<title>opens Thu 3 Dec, due Sat 2 Jan 2027, last day Sat 16 Jan 2027</title>";
        assert!(later.contains(title), "{later}");
    }
}
