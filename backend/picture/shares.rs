//! Shares: how many of all are in each state, as one bar whose parts differ by hatch, edge and word, so that it reads in black and white.
//! It decides neither the states nor their order.

use super::ink::{Anchor, Area, Ink};
use crate::language;

const WIDTH: f64 = 300.0;
const BAR: f64 = 22.0;
const LINE: f64 = 20.0;
/// The least width of a part, so that one of a thousand is still seen.
const LEAST: f64 = 4.0;

/// How a part is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: all is well.
    Empty,
    /// Dotted lines within a dotted edge: nobody knows.
    Dotted,
    /// Wide strokes.
    Wide,
    /// Close strokes.
    Close,
    /// Full.
    Full,
}

/// One state.
#[derive(Debug, Clone)]
pub struct Share {
    /// Its word.
    pub word: &'static str,
    /// How many are in it.
    pub count: usize,
    /// How its part is filled.
    pub fill: Fill,
}

/// Draws the bar with its words and counts beneath; `title` says the same in words.
#[must_use]
pub fn shares(title: &str, shares: &[Share]) -> String {
    let some: Vec<&Share> = shares.iter().filter(|share| share.count > 0).collect();
    let rows = u32::try_from(some.len()).unwrap_or(u32::MAX);
    let mut ink = Ink::image("shares", WIDTH, BAR + 8.0 + LINE * f64::from(rows), title);
    let count = |share: &Share| f64::from(u32::try_from(share.count).unwrap_or(u32::MAX));
    let all = some.iter().map(|share| count(share)).sum::<f64>().max(1.0);
    let spread = WIDTH - 2.0 - LEAST * f64::from(rows);
    let mut x = 1.0;
    let mut y = BAR + 20.0;
    for share in some {
        let width = LEAST + spread * count(share) / all;
        part(
            &mut ink,
            share.fill,
            Area {
                x,
                y: 2.0,
                width,
                height: BAR - 4.0,
            },
        );
        part(
            &mut ink,
            share.fill,
            Area {
                x: 1.0,
                y: y - 12.0,
                width: 24.0,
                height: 14.0,
            },
        );
        ink.text(
            "",
            (34.0, y),
            14.0,
            Anchor::Start,
            &format!("{} {}", language::grouped(share.count), share.word),
        );
        x += width;
        y += LINE;
    }
    ink.finish()
}

fn part(ink: &mut Ink, fill: Fill, area: Area) {
    match fill {
        Fill::Empty => {}
        // Its dotted edge stands in place of the plain one.
        Fill::Dotted => {
            for share in [0.3, 0.7] {
                let y = area.y + area.height * share;
                ink.line("dots", (area.x, y), (area.x + area.width, y));
            }
            return ink.rect("dotted", area);
        }
        Fill::Wide => ink.hatch("hatch", area, 8.0),
        Fill::Close => ink.hatch("hatch", area, 4.0),
        Fill::Full => ink.rect("today-mark", area),
    }
    ink.rect("thin", area);
}
