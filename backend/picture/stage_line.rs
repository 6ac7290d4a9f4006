//! The stage line: how far a turnover has come, as four marks on a short line with today's tick, for a row of a list.
//! The page of one turnover writes the same as an ordered list. It decides nothing about when a stage is reached.

use super::ink::{Anchor, Area, Ink, number};

const WIDTH: f64 = 190.0;
const HEIGHT: f64 = 20.0;
const BASE: f64 = 10.0;
const FIRST: f64 = 18.0;
const APART: f64 = 38.0;
const STAGES: u32 = 4;

/// How far a turnover has come.
#[derive(Debug, Clone)]
pub struct StageLine {
    /// The same in words: "found, repaired; ready by Fri 27 Nov".
    pub title: String,
    /// How many of found, repaired, ready and moved in are reached, 0 to 4.
    pub reached: u32,
    /// Days since the move-in date while it is not yet moved in, else 0.
    pub days_over: u32,
}

/// Draws the line. Today stands between the last stage reached and the next, and beyond the last mark, with a hatch and
/// the days, when the move-in date has passed.
#[must_use]
pub fn stage_line(line: &StageLine) -> String {
    let mut ink = Ink::image("stage-line", WIDTH, HEIGHT, &line.title);
    let reached = line.reached.min(STAGES);
    let at = |stage: u32| FIRST + f64::from(stage) * APART;
    let last = at(STAGES - 1);
    ink.line("faint", (FIRST, BASE), (last, BASE));
    if reached > 1 {
        ink.line("line", (FIRST, BASE), (at(reached - 1), BASE));
    }
    for stage in 0..STAGES {
        let (x, class) = (at(stage), if stage < reached { "mark" } else { "point" });
        ink.path(
            class,
            &format!(
                "M{} 5H{}V15H{}Z",
                number(x - 5.0),
                number(x + 5.0),
                number(x - 5.0)
            ),
        );
    }
    if reached < STAGES {
        let today = if line.days_over > 0 {
            let area = Area {
                x: last + 6.0,
                y: BASE - 4.5,
                width: 12.0,
                height: 9.0,
            };
            ink.hatch("hatch", area, 4.0);
            ink.text(
                "wrong bold",
                (last + 24.0, BASE + 4.5),
                13.0,
                Anchor::Start,
                &format!("+{}", line.days_over),
            );
            last + 17.0
        } else {
            at(reached) - APART / 2.0
        };
        let today = today.max(2.0);
        ink.line("today", (today, 0.0), (today, HEIGHT));
    }
    ink.finish()
}
