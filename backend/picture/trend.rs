//! Readings over time as a line with the band that is usual, and the drift when there is one. Decides the scales; whether there is a
//! drift, and when it leaves the band, is the caller's.

use chrono::NaiveDate;

use super::ink::{Anchor, Area, Ink, number};
use crate::language::Language;

const WIDTH: f64 = 380.0;
const HEIGHT: f64 = 210.0;
const LEFT: f64 = 52.0;
const RIGHT: f64 = WIDTH - 12.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = HEIGHT - 34.0;
/// Size of the words.
const WORDS: f64 = 14.0;

/// One reading.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    /// When.
    pub day: NaiveDate,
    /// How much.
    pub value: f64,
}

/// A line that readings follow.
#[derive(Debug, Clone)]
pub struct Line {
    /// From this point.
    pub from: Point,
    /// To this one, the edge of the band or the last reading.
    pub to: Point,
    /// What it says at its end: "leaves the band 30 May".
    pub word: String,
}

/// A series with its band.
#[derive(Debug, Clone)]
pub struct Trend {
    /// In which its dates are said.
    pub language: Language,
    /// The same in words, for a screen reader.
    pub title: String,
    /// The unit behind the figures.
    pub unit: &'static str,
    /// The readings, the earliest first.
    pub points: Vec<Point>,
    /// The band that is usual.
    pub band: (f64, f64),
    /// The limit beyond which a reading fails.
    pub limit: Option<f64>,
    /// The drift.
    pub line: Option<Line>,
}

struct Scale {
    first: NaiveDate,
    days: f64,
    most: f64,
}

impl Scale {
    fn at(&self, point: Point) -> (f64, f64) {
        let passed = i32::try_from((point.day - self.first).num_days()).map_or(0.0, f64::from);
        (LEFT + (RIGHT - LEFT) * passed / self.days, self.y(point.value))
    }

    fn y(&self, value: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * value / self.most
    }
}

/// Draws the series; an empty one is an empty band.
#[must_use]
pub fn trend(trend: &Trend) -> String {
    let mut ink = Ink::image("trend", WIDTH, HEIGHT, &trend.title);
    let scale = scale(trend);
    band(&mut ink, trend, &scale);
    ink.line("thin", (LEFT, TOP), (LEFT, BOTTOM));
    ink.line("thin", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    let mut path = String::new();
    for (index, point) in trend.points.iter().enumerate() {
        let (x, y) = scale.at(*point);
        path.push_str(&format!(
            "{}{} {}",
            if index == 0 { "M" } else { "L" },
            number(x),
            number(y)
        ));
    }
    if trend.points.len() > 1 {
        ink.path("measured", &path);
    }
    for point in &trend.points {
        ink.circle("mark", scale.at(*point), 3.5);
    }
    if let Some(line) = &trend.line {
        let (from, to) = (scale.at(line.from), scale.at(line.to));
        ink.line("today", from, to);
        ink.text(
            "wrong bold",
            (to.0.min(RIGHT), (to.1 - 8.0).max(TOP + 10.0)),
            WORDS,
            Anchor::End,
            &line.word,
        );
    }
    dates(&mut ink, trend, &scale);
    ink.finish()
}

fn scale(trend: &Trend) -> Scale {
    let days = trend.points.iter().map(|point| point.day);
    let ends = trend.line.iter().map(|line| line.to.day);
    let first = days.clone().min().unwrap_or_default();
    let last = days.chain(ends).max().unwrap_or(first);
    let values = trend.points.iter().map(|point| point.value);
    let most = values.fold(trend.band.1, f64::max) * 1.15;
    let span = i32::try_from((last - first).num_days()).map_or(1.0, f64::from);
    Scale {
        first,
        days: span.max(1.0),
        most: most.max(1.0),
    }
}

fn band(ink: &mut Ink, trend: &Trend, scale: &Scale) {
    let (low, high) = (scale.y(trend.band.0), scale.y(trend.band.1));
    ink.rect(
        "cut-light",
        Area {
            x: LEFT,
            y: high,
            width: RIGHT - LEFT,
            height: low - high,
        },
    );
    for edge in [trend.band.0, trend.band.1] {
        ink.line("dashed", (LEFT, scale.y(edge)), (RIGHT, scale.y(edge)));
        ink.text(
            "soft",
            (LEFT - 5.0, scale.y(edge) + 4.0),
            WORDS,
            Anchor::End,
            &format!("{} {}", number(edge), trend.unit),
        );
    }
    if let Some(limit) = trend.limit.filter(|limit| *limit < scale.most) {
        ink.line("ground", (LEFT, scale.y(limit)), (RIGHT, scale.y(limit)));
        ink.text(
            "bold",
            (LEFT - 5.0, scale.y(limit) + 4.0),
            WORDS,
            Anchor::End,
            &format!("{} {}", number(limit), trend.unit),
        );
    }
}

fn dates(ink: &mut Ink, trend: &Trend, scale: &Scale) {
    let words = |day: NaiveDate| trend.language.short_date(day);
    let Some(first) = trend.points.first() else { return };
    ink.text(
        "soft",
        (LEFT, BOTTOM + 19.0),
        WORDS,
        Anchor::Start,
        &words(first.day),
    );
    let last = trend
        .line
        .as_ref()
        .map(|line| line.to)
        .or(trend.points.last().copied());
    if let Some(last) = last.filter(|last| last.day != first.day) {
        ink.text(
            "soft",
            (scale.at(last).0.max(LEFT + 160.0), BOTTOM + 19.0),
            WORDS,
            Anchor::End,
            &words(last.day),
        );
    }
}
