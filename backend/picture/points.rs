//! The section of a fixture with its leak points as links, for every kind that has a drawing: tap a number, say what is seen there.
//! Decides the outlines and where a number stands; what a point is called and where it leads is the caller's.
//!
//! Outlines are of the usual build, in inches from the finished wall and floor (common practice, no source).

use super::ink::Ink;
use super::section::{self, FLOOR, Finding, HEIGHT, WALL, WIDTH, drawn, placed};
use crate::domain::trade::leak_point::Drawing;

/// One point of a drawing.
#[derive(Debug, Clone)]
pub struct Mark {
    /// What it is and what was seen, for whoever does not see the drawing: "4, base: damp".
    pub name: String,
    /// What was seen last.
    pub finding: Finding,
    /// Where a tap leads.
    pub href: Option<String>,
}

/// A fixture with its points in the order of their numbers.
#[derive(Debug, Clone)]
pub struct Points {
    /// The same in words, for a screen reader.
    pub title: String,
    /// Which outline.
    pub drawing: Drawing,
    /// The points.
    pub marks: Vec<Mark>,
}

/// Where the number of a point stands and which joint it names.
type Place = ((f64, f64), (f64, f64));

struct Outline {
    /// Drawing units in an inch.
    scale: f64,
    paths: &'static [(&'static str, &'static str)],
    places: &'static [Place],
}

const BASIN: Outline = Outline {
    scale: 6.2,
    paths: &[
        // Bowl with its rim and deck, the drain beneath, the trap, the arm into the wall.
        (
            "body",
            "M0 33L22 33Q23 33 22.6 31.6C21.6 27 17 26.2 12.4 26.2C8 26.2 4.2 27 3 30.6L0 30.6Z",
        ),
        (
            "thin",
            "M4.6 31.6C6 28.4 9 27.6 12.4 27.6C16 27.6 19.6 28.4 21 31.6",
        ),
        ("body", "M11.6 26.2L11.6 22.4L13.2 22.4L13.2 26.2Z"),
        (
            "line",
            "M12.4 22.4L12.4 17.6C12.4 14.8 8.2 14.8 8.2 17.6L8.2 18.4Q8.2 19.4 7 19.4L0 19.4",
        ),
        // Faucet.
        (
            "body",
            "M3.4 33L3.4 37.6C3.4 40.4 10.6 40.4 10.6 37.2L9.2 37.2C9.2 38.8 5 38.8 5 37.2L5 33Z",
        ),
        // Supply line with its stop.
        ("body", "M0 21.6L2 21.6L2 23L0 23Z"),
        ("line", "M2.6 23L2.6 26C2.6 28.6 4.2 28.8 4.2 31"),
    ],
    places: &[
        ((16.0, 40.0), (9.6, 37.4)),
        ((-5.4, 28.6), (3.4, 28.6)),
        ((-5.4, 22.3), (2.2, 22.3)),
        ((19.6, 23.6), (13.0, 25.6)),
        ((16.0, 14.6), (10.4, 15.6)),
    ],
};

const BATHTUB: Outline = Outline {
    scale: 6.4,
    paths: &[
        (
            "body",
            "M0 16L34 16L34 14.6L32.6 14.6L30.4 1.2L4.4 1.2L2.6 14.6L0 14.6Z",
        ),
        ("thin", "M6 13.6L7.4 3.4L28.4 3.4"),
        ("body", "M0 20.4L6 20.4Q6.6 20.4 6.6 19L5.2 19L5.2 18.6L0 18.6Z"),
        ("body", "M0 26L2 26L2 30L0 30ZM2 27L3.4 27L3.4 29L2 29Z"),
        ("line", "M0 38L3 38L5.6 36.4"),
        ("body", "M4.6 36.4L6.6 36.4L7.4 34.8L3.8 34.8Z"),
        ("line", "M7 1.2L7 -2.4M5.6 11L6.6 11"),
    ],
    places: &[
        ((15.4, 21.4), (6.2, 19.6)),
        ((12.4, 28.4), (3.0, 28.0)),
        ((18.0, 8.6), (7.6, 4.0)),
        ((-5.0, 15.4), (0.4, 15.4)),
    ],
};

const SHOWER: Outline = Outline {
    scale: 3.5,
    paths: &[
        ("body", "M0 3L36 3L36 6L38 6L38 0L0 0Z"),
        ("line", "M37 6L37 72"),
        ("line", "M0 72L6 72L10 69"),
        ("body", "M8 69L12 69L14 65.6L6 65.6Z"),
        (
            "body",
            "M0 42L2.4 42L2.4 48L0 48ZM2.4 43.6L5 43.6L5 46.4L2.4 46.4Z",
        ),
        ("thin", "M15 3L21 3M16 2.2L20 2.2"),
        ("line", "M18 0L18 -5"),
    ],
    places: &[
        ((24.0, 70.0), (10.6, 68.0)),
        ((18.0, 45.0), (4.4, 45.0)),
        ((52.0, 12.0), (37.4, 5.4)),
        ((27.0, 14.0), (18.4, 3.0)),
    ],
};

const HEATER: Outline = Outline {
    scale: 4.2,
    paths: &[
        (
            "body",
            "M8 3L28 3Q29 3 29 4L29 49Q29 51 26 51L10 51Q7 51 7 49L7 4Q7 3 8 3Z",
        ),
        ("body", "M4 0L32 0L33 2.6L3 2.6Z"),
        ("line", "M13 51L13 60M23 51L23 60"),
        ("body", "M11.4 54L14.6 54L14.6 56.4L11.4 56.4Z"),
        ("body", "M29 44L31.6 44L31.6 46.6L29 46.6Z"),
        ("line", "M31 44L31 4"),
        ("body", "M29 7L32 7L32 9.4L29 9.4Z"),
    ],
    places: &[
        ((2.4, 57.6), (12.0, 55.2)),
        ((33.0, 58.6), (23.4, 55.0)),
        ((41.6, 46.6), (31.4, 45.2)),
        ((42.6, 12.6), (31.6, 8.2)),
        ((-4.6, 8.0), (6.4, 2.6)),
    ],
};

const WASHER: Outline = Outline {
    scale: 5.6,
    paths: &[
        ("body", "M7 1L34 1L34 36L7 36Z"),
        (
            "thin",
            "M7 31L34 31M20.5 26.6C13 26.6 11 21.6 11 17.4C11 13 14 8.4 20.5 8.4C27 8.4 30 13 30 17.4C30 21.6 28 26.6 20.5 26.6Z",
        ),
        ("body", "M0 40L2 40L2 43L0 43Z"),
        ("line", "M2 41.4C5 41.4 3.4 34 7 33"),
        ("line", "M7 12C3 12 4.4 30 2 34.6L0 34.6"),
        ("body", "M9 0L11 0L11 1L9 1ZM30 0L32 0L32 1L30 1Z"),
    ],
    places: &[
        ((9.0, 44.4), (2.0, 41.6)),
        ((-5.6, 39.0), (4.4, 37.4)),
        ((-5.6, 20.6), (4.6, 20.6)),
        ((40.0, 6.0), (32.6, 1.0)),
    ],
};

/// Draws the fixture with its points. A drawing whose points are links is a group to a screen reader, else one image.
#[must_use]
pub fn points(points: &Points) -> String {
    let is_linked = points.marks.iter().any(|mark| mark.href.is_some());
    let mut ink = if is_linked {
        Ink::group("section", WIDTH, HEIGHT, &points.title)
    } else {
        Ink::image("section", WIDTH, HEIGHT, &points.title)
    };
    let outline = match points.drawing {
        Drawing::WaterCloset => {
            section::outline(&mut ink);
            None
        }
        Drawing::Basin => Some(BASIN),
        Drawing::Bathtub => Some(BATHTUB),
        Drawing::Shower => Some(SHOWER),
        Drawing::Heater => Some(HEATER),
        Drawing::Washer => Some(WASHER),
    };
    let (scale, places): (f64, &[Place]) = match &outline {
        None => (section::SCALE, &section::POINTS),
        Some(outline) => {
            room(&mut ink);
            for (class, inches) in outline.paths {
                ink.path(class, &drawn(inches, outline.scale));
            }
            (outline.scale, outline.places)
        }
    };
    for (index, (mark, (centre, joint))) in points.marks.iter().zip(places).enumerate() {
        let number = (index + 1).to_string();
        let (centre, joint) = (placed(*centre, scale), placed(*joint, scale));
        if let Some(href) = &mark.href {
            ink.link_named(href, &mark.name);
            ink.circle("hit", centre, 27.0);
        }
        section::point(&mut ink, &number, mark.finding, centre, joint);
        if mark.href.is_some() {
            ink.end_link();
        }
    }
    ink.finish()
}

/// The finished wall and floor, cut.
fn room(ink: &mut Ink) {
    let cut = |x, y, width, height| super::ink::Area { x, y, width, height };
    ink.rect("cut", cut(WALL - 10.0, 6.0, 10.0, FLOOR - 6.0));
    ink.rect("cut", cut(WALL - 10.0, FLOOR, WIDTH - WALL + 4.0, 10.0));
    ink.line("line", (WALL, 6.0), (WALL, FLOOR));
    ink.line("line", (WALL, FLOOR), (WIDTH - 6.0, FLOOR));
}
