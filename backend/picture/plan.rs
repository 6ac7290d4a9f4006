//! The plan of a water closet: the room from above, to scale, each measured distance as a line with its figure against its limit as a
//! dashed line. What is short is drawn in copper with the amount. Decides where lines stand; what was measured and what is short is
//! the caller's.
//!
//! The outline of the water closet is a common one (common practice, no source): nothing may be measured off it.

use super::ink::{Anchor, Area, Ink};
use crate::language::Language;

const WIDTH: f64 = 340.0;
/// Drawing units in an inch.
const SCALE: f64 = 4.4;
const TOP: f64 = 30.0;
/// The centreline.
const CENTRE: f64 = WIDTH / 2.0;
/// Tank and bowl, inches: half the tank's width, its depth, the bowl's front edge from the rear wall, half the bowl's width.
const TANK_HALF_IN: f64 = 9.0;
const TANK_DEEP_IN: f64 = 8.0;
const BOWL_FRONT_IN: f64 = 28.0;
const BOWL_HALF_IN: f64 = 7.25;
/// The longest distance that is drawn to scale, inches; a longer one is cut with a break.
const LONGEST_SIDE_IN: f64 = 20.0;
const LONGEST_FRONT_IN: f64 = 40.0;

/// Half the width of the lines in front, drawing units.
const FRONT_HALF: f64 = 54.0;
/// Size of a figure, of what stands beside it.
const FIGURE: f64 = 15.0;
const WORDS: f64 = 13.0;

/// A measured distance.
#[derive(Debug, Clone)]
pub struct Distance {
    /// How long, inches; for drawing only.
    pub inches: f64,
    /// As typed or shown: "14 7/8 in".
    pub said: String,
    /// Its limit, inches, with its word: "15 in".
    pub limit: Option<(f64, String)>,
    /// By how much it is short or over, and of which limit: "1/8 in", "short of 15 in"; none when the limit is kept.
    pub short: Option<[String; 2]>,
}

/// What was measured, seen from above with the rear wall at the top.
#[derive(Debug, Clone, Default)]
pub struct Plan {
    /// In which its legend is said.
    pub language: Language,
    /// The same in words, for a screen reader.
    pub title: String,
    /// Centreline to the left, seen from in front of the bowl with the wall ahead.
    pub left: Option<Distance>,
    /// Centreline to the right.
    pub right: Option<Distance>,
    /// Clear in front.
    pub front: Option<Distance>,
    /// What has no place on a plan, a line each: the seat's height, centre to centre.
    pub beside: Vec<(String, bool)>,
}

/// Draws the plan with its legend.
#[must_use]
pub fn plan(plan: &Plan) -> String {
    let front_in = plan
        .front
        .as_ref()
        .map_or(24.0, |front| front.inches.min(LONGEST_FRONT_IN));
    let floor = TOP + SCALE * (BOWL_FRONT_IN + front_in.max(limit_of(plan.front.as_ref())) + 2.0);
    let lines = f64::from(u32::try_from(plan.beside.len()).unwrap_or(0));
    let words = match &plan.front {
        Some(front) if front.short.is_some() => 40.0,
        Some(_) => 23.0,
        None => 0.0,
    };
    let height = floor + words + 52.0 + 18.0 * lines;
    let mut ink = Ink::image("plan", WIDTH, height, &plan.title);
    ink.rect(
        "cut",
        Area {
            x: 6.0,
            y: TOP - 10.0,
            width: WIDTH - 12.0,
            height: 10.0,
        },
    );
    ink.line("line", (6.0, TOP), (WIDTH - 6.0, TOP));
    fixture(&mut ink, floor);
    if let Some(left) = &plan.left {
        side(&mut ink, left, -1.0, floor);
    }
    if let Some(right) = &plan.right {
        side(&mut ink, right, 1.0, floor);
    }
    if let Some(front) = &plan.front {
        ahead(&mut ink, front, floor);
    }
    legend(&mut ink, plan, floor + words + 22.0);
    ink.finish()
}

fn limit_of(distance: Option<&Distance>) -> f64 {
    distance
        .and_then(|distance| distance.limit.as_ref())
        .map_or(0.0, |(inches, _)| inches.min(LONGEST_FRONT_IN))
}

/// Tank, bowl, seat line and the centreline.
fn fixture(ink: &mut Ink, floor: f64) {
    let across = |inches: f64| CENTRE + SCALE * inches;
    let down = |inches: f64| TOP + SCALE * inches;
    ink.rect(
        "body",
        Area {
            x: across(-TANK_HALF_IN),
            y: down(0.8),
            width: SCALE * 2.0 * TANK_HALF_IN,
            height: SCALE * (TANK_DEEP_IN - 0.8),
        },
    );
    let bowl = |half: f64, from: f64, to: f64| {
        let (left, right) = (
            super::ink::number(across(-half)),
            super::ink::number(across(half)),
        );
        let (top, low, tip) = (
            super::ink::number(down(from)),
            super::ink::number(down(from + (to - from) * 0.45)),
            super::ink::number(down(to)),
        );
        let (narrow_left, narrow_right) = (
            super::ink::number(across(-half * 0.72)),
            super::ink::number(across(half * 0.72)),
        );
        let middle = super::ink::number(CENTRE);
        format!(
            "M{narrow_left} {top}C{left} {low} {left} {low} {left} {low}C{left} {tip} {narrow_left} {tip} {middle} {tip}\
             C{narrow_right} {tip} {right} {tip} {right} {low}C{right} {low} {right} {low} {narrow_right} {top}Z"
        )
    };
    ink.path("body", &bowl(BOWL_HALF_IN, TANK_DEEP_IN, BOWL_FRONT_IN));
    ink.path(
        "thin",
        &bowl(BOWL_HALF_IN - 2.2, TANK_DEEP_IN + 3.0, BOWL_FRONT_IN - 2.4),
    );
    ink.line("dotted", (CENTRE, TOP - 18.0), (CENTRE, floor));
}

/// A distance to a side: the wall where it was measured, the limit dashed, the line with its figure.
fn side(ink: &mut Ink, distance: &Distance, way: f64, floor: f64) {
    let drawn = distance.inches.min(LONGEST_SIDE_IN);
    let wall = CENTRE + way * SCALE * drawn;
    let y = TOP + SCALE * (TANK_DEEP_IN + 5.0);
    let is_cut = distance.inches > LONGEST_SIDE_IN;
    ink.line(if is_cut { "dotted" } else { "line" }, (wall, TOP), (wall, floor));
    if let Some((inches, word)) = &distance.limit {
        let x = CENTRE + way * SCALE * inches.min(LONGEST_SIDE_IN);
        // The word stands beneath the bowl's front edge, where it is clear of the bowl.
        let edge = TOP + SCALE * BOWL_FRONT_IN;
        ink.line("dashed", (x, TOP), (x, edge + 22.0));
        let anchor = if way < 0.0 { Anchor::Start } else { Anchor::End };
        ink.text("soft", (x - way * 5.0, edge + 17.0), WORDS, anchor, word);
    }
    let (stroke, words) = tones(distance);
    ink.line(stroke, (CENTRE, y), (wall, y));
    ink.line(stroke, (wall, y - 6.0), (wall, y + 6.0));
    // The words stand outside of the wall, so that no line crosses them.
    let x = wall + way * 7.0;
    let anchor = if way < 0.0 { Anchor::End } else { Anchor::Start };
    ink.text(words, (x, y + 5.0), FIGURE, anchor, &distance.said);
    if let Some(short) = &distance.short {
        by_and_limit(ink, (x, y + 22.0), anchor, short);
    }
}

/// The clear space in front.
fn ahead(ink: &mut Ink, distance: &Distance, floor: f64) {
    let edge = TOP + SCALE * BOWL_FRONT_IN;
    let end = edge + SCALE * distance.inches.min(LONGEST_FRONT_IN);
    let is_cut = distance.inches > LONGEST_FRONT_IN;
    ink.line(
        if is_cut { "dotted" } else { "line" },
        (CENTRE - FRONT_HALF, end),
        (CENTRE + FRONT_HALF, end),
    );
    if let Some((inches, word)) = &distance.limit {
        let y = edge + SCALE * inches.min(LONGEST_FRONT_IN);
        ink.line("dashed", (CENTRE - FRONT_HALF, y), (CENTRE + FRONT_HALF, y));
        ink.text(
            "soft",
            (CENTRE - FRONT_HALF + 2.0, y - 4.0),
            WORDS,
            Anchor::Start,
            word,
        );
    }
    let (stroke, words) = tones(distance);
    ink.line(stroke, (CENTRE, edge), (CENTRE, end));
    // The words stand past the end of the walls, so that no line crosses them.
    ink.text(
        words,
        (CENTRE, floor + 18.0),
        FIGURE,
        Anchor::Middle,
        &distance.said,
    );
    if let Some(short) = &distance.short {
        let short = short.join(" ");
        ink.text("wrong", (CENTRE, floor + 35.0), WORDS, Anchor::Middle, &short);
    }
}

/// What is short, the amount and the limit each in a line of its own, since there is little room beside a wall.
fn by_and_limit(ink: &mut Ink, (x, y): (f64, f64), anchor: Anchor, short: &[String; 2]) {
    let mut y = y;
    for line in short {
        ink.text("wrong", (x, y), WORDS, anchor, line);
        y += 16.0;
    }
}

const fn tones(distance: &Distance) -> (&'static str, &'static str) {
    if distance.short.is_some() {
        ("today", "wrong bold")
    } else {
        ("measured", "bold")
    }
}

fn legend(ink: &mut Ink, plan: &Plan, y: f64) {
    let said = |key| plan.language.say(key).to_string();
    ink.line("measured", (8.0, y), (30.0, y));
    ink.text(
        "",
        (36.0, y + 4.0),
        WORDS,
        Anchor::Start,
        &said("plan-key-measured"),
    );
    ink.line("dashed", (116.0, y), (138.0, y));
    ink.text(
        "",
        (144.0, y + 4.0),
        WORDS,
        Anchor::Start,
        &said("plan-key-limit"),
    );
    ink.line("today", (190.0, y), (212.0, y));
    ink.text(
        "",
        (218.0, y + 4.0),
        WORDS,
        Anchor::Start,
        &said("plan-key-short"),
    );
    let mut y = y + 22.0;
    for (words, is_short) in &plan.beside {
        ink.text(
            if *is_short { "wrong bold" } else { "" },
            (8.0, y),
            13.0,
            Anchor::Start,
            words,
        );
        y += 18.0;
    }
}
