//! The forecast: a bar a year for the expected cost, a whisker from what one in ten stays below to what nine in ten do.
//! It decides no amount.

use super::ink::{Anchor, Area, Ink};

const WIDTH: f64 = 380.0;
const HEIGHT: f64 = 170.0;
const LEFT: f64 = 64.0;
const FLOOR: f64 = 142.0;
const TALLEST: f64 = 124.0;

/// One year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// The year as people read it.
    pub label: String,
    /// Expected, whole units of money.
    pub expected: f64,
    /// One in ten stays below.
    pub low: f64,
    /// Nine in ten stay below.
    pub high: f64,
}

/// Years ahead.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// The same in words.
    pub title: String,
    /// Years in order.
    pub years: Vec<Year>,
}

/// Draws the bars. A table beside them must say the same.
#[must_use]
pub fn forecast(bars: &Bars) -> String {
    let mut ink = Ink::image("forecast", WIDTH, HEIGHT, &bars.title);
    let most = bars
        .years
        .iter()
        .map(|year| year.expected.max(year.high))
        .fold(1.0, f64::max);
    let top = round_up(most);
    let at = |amount: f64| FLOOR - TALLEST * amount / top;
    for part in [0.5, 1.0] {
        let y = at(top * part);
        ink.line("faint", (LEFT, y), (WIDTH, y));
        ink.text(
            "soft",
            (LEFT - 6.0, y + 4.0),
            14.0,
            Anchor::End,
            &amount(top * part),
        );
    }
    let count = f64::from(u32::try_from(bars.years.len()).unwrap_or(u32::MAX)).max(1.0);
    let pitch = (WIDTH - LEFT - 6.0) / count;
    let every = (count / 5.0).ceil().max(1.0);
    let mut place = 0.0;
    for year in &bars.years {
        let (x, width) = (LEFT + place * pitch + pitch * 0.2, pitch * 0.6);
        let middle = x + width / 2.0;
        let y = at(year.expected);
        ink.rect(
            "bar",
            Area {
                x,
                y,
                width,
                height: FLOOR - y,
            },
        );
        let (low, high) = (at(year.low), at(year.high));
        ink.line("line", (middle, low), (middle, high));
        for end in [low, high] {
            ink.line("line", (middle - 4.0, end), (middle + 4.0, end));
        }
        if place % every == 0.0 {
            ink.text("soft", (middle, FLOOR + 19.0), 14.0, Anchor::Middle, &year.label);
        }
        place += 1.0;
    }
    ink.line("line", (LEFT - 4.0, FLOOR), (WIDTH, FLOOR));
    ink.finish()
}

/// The next of 1, 2, 5, 10, 20 ... at or over an amount.
fn round_up(amount: f64) -> f64 {
    let mut step = 1.0;
    loop {
        for times in [1.0, 2.0, 5.0] {
            if step * times >= amount {
                return step * times;
            }
        }
        step *= 10.0;
    }
}

/// "850", "12k", "1.5M".
fn amount(value: f64) -> String {
    let short = |value: f64| {
        let text = format!("{value:.1}");
        text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
    };
    if value >= 1_000_000.0 {
        format!("{}M", short(value / 1_000_000.0))
    } else if value >= 1_000.0 {
        format!("{}k", short(value / 1_000.0))
    } else {
        short(value)
    }
}
