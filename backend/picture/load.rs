//! The load: work ahead as a bar a week against a line of capacity; what goes beyond the line is hatched.
//! It decides neither the minutes nor the capacity.

use super::ink::{Anchor, Area, Ink};

const WIDTH: f64 = 380.0;
const HEIGHT: f64 = 150.0;
const LEFT: f64 = 46.0;
const FLOOR: f64 = 124.0;
const TALLEST: f64 = 112.0;

/// One week's work.
#[derive(Debug, Clone)]
pub struct Week {
    /// The week's first day as people read it.
    pub label: String,
    /// Minutes of work that fall in it.
    pub minutes: u32,
}

/// Weeks ahead and what a week can hold.
#[derive(Debug, Clone)]
pub struct Load {
    /// The same in words.
    pub title: String,
    /// Weeks in order.
    pub weeks: Vec<Week>,
    /// Minutes that a week can hold; 0, or more than twice the busiest week, draws no line.
    pub capacity_minutes: u32,
}

/// Draws the bars. A table beside them must say the same.
#[must_use]
pub fn load(load: &Load) -> String {
    let mut ink = Ink::image("load", WIDTH, HEIGHT, &load.title);
    let busiest = load
        .weeks
        .iter()
        .map(|week| week.minutes)
        .max()
        .unwrap_or(0)
        .max(1);
    // A line far above every bar would only press the bars flat.
    let is_near = load.capacity_minutes > 0 && load.capacity_minutes / 2 <= busiest;
    let most = if is_near {
        busiest.max(load.capacity_minutes)
    } else {
        busiest
    };
    let tall = |minutes: u32| TALLEST * f64::from(minutes) / f64::from(most);
    let count = f64::from(u32::try_from(load.weeks.len()).unwrap_or(u32::MAX)).max(1.0);
    let pitch = (WIDTH - LEFT - 8.0) / count;
    let every = (count / 5.0).ceil().max(1.0);
    let mut place = 0.0;
    for week in &load.weeks {
        let (x, width) = (LEFT + place * pitch + pitch * 0.15, pitch * 0.7);
        let within = if load.capacity_minutes == 0 {
            week.minutes
        } else {
            week.minutes.min(load.capacity_minutes)
        };
        let (base, full) = (tall(within), tall(week.minutes));
        ink.rect(
            "bar",
            Area {
                x,
                y: FLOOR - base,
                width,
                height: base,
            },
        );
        if full > base {
            let beyond = Area {
                x,
                y: FLOOR - full,
                width,
                height: full - base,
            };
            ink.rect("over", beyond);
            ink.hatch("hatch", beyond, 4.0);
        }
        if place % every == 0.0 {
            ink.text(
                "soft",
                (x + width / 2.0, FLOOR + 18.0),
                12.0,
                Anchor::Middle,
                &week.label,
            );
        }
        place += 1.0;
    }
    ink.line("line", (LEFT - 4.0, FLOOR), (WIDTH, FLOOR));
    if !is_near {
        let y = FLOOR - TALLEST;
        ink.line("faint", (LEFT - 4.0, y), (WIDTH, y));
        ink.text("soft", (LEFT - 8.0, y + 4.0), 12.0, Anchor::End, &hours(busiest));
    }
    if is_near {
        let y = FLOOR - tall(load.capacity_minutes);
        ink.line("dashed", (LEFT - 4.0, y), (WIDTH, y));
        ink.text(
            "soft",
            (LEFT - 8.0, y + 4.0),
            12.0,
            Anchor::End,
            &hours(load.capacity_minutes),
        );
    }
    ink.finish()
}

/// "35 min", "13.7 h", "32 h", "128 h": as exact as the room beside the bars allows.
fn hours(minutes: u32) -> String {
    match minutes {
        0..60 => format!("{minutes} min"),
        _ if minutes.is_multiple_of(60) => format!("{} h", minutes / 60),
        60..6_000 => format!("{:.1} h", f64::from(minutes) / 60.0),
        _ => format!("{:.0} h", f64::from(minutes) / 60.0),
    }
}
