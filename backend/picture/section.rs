//! The section of a water closet: seen from the side with its supply, on a finished wall and floor, with numbered leak points.
//! It decides where the outline stands and how a point is marked; what a point is called and found is the caller's.
//!
//! The outline is a common two-piece water closet with a 12 in rough-in, drawn in inches from the wall and from the floor.
//! Its proportions are common practice, no source; nothing may be measured off it.

use super::ink::{Anchor, Area, Ink, number};

pub(super) const WIDTH: f64 = 320.0;
pub(super) const HEIGHT: f64 = 300.0;
/// Drawing units in an inch.
pub(super) const SCALE: f64 = 8.4;
/// Where the finished wall and the finished floor stand.
pub(super) const WALL: f64 = 60.0;
pub(super) const FLOOR: f64 = 270.0;

/// What was seen at a leak point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// Dry, or not looked at yet.
    Quiet,
    /// Damp, wet or stained.
    Wrong,
}

/// The outline: class and path, in inches from the wall and from the floor, back to front.
const OUTLINE: [(&str, &str); 17] = [
    // The bowl with its foot; the rim line runs on under the tank as the shelf.
    (
        "body",
        "M3 14.9L28 14.9Q28.8 14.9 28.8 14.1Q28.8 13.2 27.9 13C27.3 9.6 24.4 8 22.2 6.6C20.6 5.5 20.3 3.6 21 1.6Q21.4 .6 21.6 0\
         L7.4 0Q7.2 .9 7.5 1.9C8 3.6 7.5 5 6.6 6.8C5.7 8.6 5.6 10.4 5 11.8C4.7 12.6 4.2 12.7 3.6 12.9Q3 13.1 3 13.8Z",
    ),
    // The passage inside: the basin down to the sump, up over the weir and down to the outlet; its other side; the water.
    (
        "dashed",
        "M26.6 13.3C26 10.6 23.4 9 21.4 7.8C19.6 6.6 18.6 4.6 16.8 4.4C15 4.2 14.9 6.2 14.4 7.4C14 8.4 13.2 8.4 13 7.2\
         C12.8 5.4 13.1 2.4 13.2 0",
    ),
    (
        "dashed",
        "M11.6 13.3C12.4 11.6 14.8 10.6 15.9 8.8C16.6 7.6 17.2 6.9 16.8 6.6C16.4 6.3 15.9 7.6 15.2 8.8\
         C14.2 10.4 12 10.8 10.9 9C9.9 7.2 10.6 3 10.8 0",
    ),
    ("thin", "M16.6 8.2L21.6 8.2"),
    // The bolt's cap on the foot.
    ("body", "M11.1 .9Q12 2.1 12.9 .9Z"),
    // The gasket between tank and shelf; tank, lid and lever.
    ("body", "M4.4 14.9L4.4 15.5L7.8 15.5L7.8 14.9Z"),
    (
        "body",
        "M.8 27.6L8.9 27.6L8.4 16.3Q8.3 15.5 7.5 15.5L1.7 15.5Q.9 15.5 .9 16.3Z",
    ),
    (
        "body",
        "M.4 27.6L.4 28.5Q.4 29 .9 29L8.9 29Q9.4 29 9.4 28.5L9.4 27.6Z",
    ),
    ("line", "M8.8 25.7L9.6 25.7L9.8 24.3"),
    // Seat and cover on the rim, the hinge behind them.
    (
        "body",
        "M10.4 14.9L10.4 15.7L28 15.7Q28.7 15.7 28.7 15.3Q28.7 14.9 28 14.9Z",
    ),
    (
        "body",
        "M9.8 14.9L9.8 16.1L10.4 16.5L27.8 16.5Q28.6 16.5 28.6 16.1Q28.6 15.7 27.8 15.7L10.4 15.7L10.4 14.9Z",
    ),
    // The supply: rose, stub, stop with its oval handle, line, nut of the stop, coupling nut under the tank.
    ("body", "M0 5.9L.4 5.9L.4 8.1L0 8.1Z"),
    ("body", "M.4 6.6L1.5 6.6L1.5 7.4L.4 7.4Z"),
    ("body", "M1.5 6.1L3 6.1L3 8.2L1.5 8.2Z"),
    (
        "body",
        "M3 6.8L3.6 6.8L3.6 5.8Q4.3 5.8 4.3 7Q4.3 8.2 3.6 8.2L3.6 7.2L3 7.2Z",
    ),
    ("body", "M1.95 9L1.95 13.9L2.65 13.9L2.65 9Z"),
    (
        "body",
        "M1.6 8.2L1.6 9L3 9L3 8.2ZM1.5 13.9L1.5 15.5L3.1 15.5L3.1 13.9Z",
    ),
];

/// The points of the water closet: where the number stands and which joint it names, in inches from the wall and from the floor.
pub(super) const POINTS: [((f64, f64), (f64, f64)); 4] = [
    ((-4.6, 14.7), (1.5, 14.7)),
    ((-4.6, 7.0), (1.5, 7.0)),
    ((14.2, 21.0), (7.8, 15.2)),
    ((26.6, 4.2), (21.7, 0.3)),
];

/// Wall, floor with its outlet, and the water closet.
pub(super) fn outline(ink: &mut Ink) {
    let (outlet_left, outlet_right) = (at((10.4, 0.0)).0, at((13.6, 0.0)).0);
    ink.rect(
        "cut",
        Area {
            x: WALL - 10.0,
            y: 12.0,
            width: 10.0,
            height: FLOOR - 12.0,
        },
    );
    ink.rect(
        "cut",
        Area {
            x: WALL - 10.0,
            y: FLOOR,
            width: outlet_left - WALL + 10.0,
            height: 10.0,
        },
    );
    ink.rect(
        "cut",
        Area {
            x: outlet_right,
            y: FLOOR,
            width: WIDTH - outlet_right - 6.0,
            height: 10.0,
        },
    );
    ink.line("line", (WALL, 12.0), (WALL, FLOOR));
    for (class, inches) in OUTLINE {
        ink.path(class, &drawn(inches, SCALE));
    }
    ink.line("line", (WALL, FLOOR), (WIDTH - 6.0, FLOOR));
    ink.line("line", (outlet_left, FLOOR), (outlet_left, FLOOR + 24.0));
    ink.line("line", (outlet_right, FLOOR), (outlet_right, FLOOR + 24.0));
}

/// A numbered circle with a leader to the joint it names.
pub(super) fn point(ink: &mut Ink, number: &str, finding: Finding, centre: (f64, f64), joint: (f64, f64)) {
    let (circle, words) = match finding {
        Finding::Quiet => ("point", "bold"),
        Finding::Wrong => ("point-wrong", "point-wrong-text bold"),
    };
    ink.line("thin", centre, joint);
    ink.circle("mark", joint, 3.0);
    ink.circle(circle, centre, 14.0);
    ink.text(words, (centre.0, centre.1 + 5.5), 16.0, Anchor::Middle, number);
}

/// A point given in inches from the wall and from the floor.
pub(super) fn at(inches: (f64, f64)) -> (f64, f64) {
    placed(inches, SCALE)
}

/// The same at a scale of one's own, drawing units in an inch.
pub(super) fn placed((from_wall_in, from_floor_in): (f64, f64), scale: f64) -> (f64, f64) {
    (WALL + scale * from_wall_in, FLOOR - scale * from_floor_in)
}

/// A path given in inches, as a path in drawing units. Knows the commands M, L, Q, C and Z.
pub(super) fn drawn(inches: &str, scale: f64) -> String {
    let mut path = String::with_capacity(inches.len() * 2);
    let mut across = None;
    let mut figure = String::new();
    let mut flush = |figure: &mut String, path: &mut String| {
        if let Ok(value) = figure.parse::<f64>() {
            match across.take() {
                None => across = Some(value),
                Some(from_wall_in) => {
                    let (x, y) = placed((from_wall_in, value), scale);
                    path.push_str(&format!("{} {} ", number(x), number(y)));
                }
            }
        }
        figure.clear();
    };
    for letter in inches.chars() {
        if letter.is_ascii_alphabetic() {
            flush(&mut figure, &mut path);
            path.truncate(path.trim_end().len());
            path.push(letter);
        } else if letter == ' ' {
            flush(&mut figure, &mut path);
        } else {
            figure.push(letter);
        }
    }
    flush(&mut figure, &mut path);
    path.truncate(path.trim_end().len());
    path
}
