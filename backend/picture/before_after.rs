//! Two amounts a month side by side: as it is as an empty bar, as it would be as a full one. It decides neither what is counted nor the
//! months.

use super::ink::{Anchor, Area, Ink};

const WIDTH: f64 = 380.0;
const HEIGHT: f64 = 176.0;
const LEFT: f64 = 44.0;
const FLOOR: f64 = 128.0;
const TALLEST: f64 = 112.0;

/// One month.
#[derive(Debug, Clone, PartialEq)]
pub struct Month {
    /// The month as people read it; empty ones are not written.
    pub label: String,
    /// As it is.
    pub before: f64,
    /// As it would be.
    pub after: f64,
}

/// Months ahead.
#[derive(Debug, Clone, PartialEq)]
pub struct BeforeAfter {
    /// The same in words.
    pub title: String,
    /// Months in order.
    pub months: Vec<Month>,
}

/// Draws the bars with their legend. A table beside them must say the same.
#[must_use]
pub fn before_after(bars: &BeforeAfter) -> String {
    let mut ink = Ink::image("load", WIDTH, HEIGHT, &bars.title);
    let most = bars
        .months
        .iter()
        .map(|month| month.before.max(month.after))
        .fold(1.0, f64::max);
    let count = f64::from(u32::try_from(bars.months.len()).unwrap_or(u32::MAX)).max(1.0);
    let pitch = (WIDTH - LEFT - 4.0) / count;
    ink.line("faint", (LEFT, FLOOR - TALLEST), (WIDTH, FLOOR - TALLEST));
    let top = format!("{most:.0}");
    ink.text(
        "soft",
        (LEFT - 6.0, FLOOR - TALLEST + 4.0),
        12.0,
        Anchor::End,
        &top,
    );
    let mut place = 0.0;
    for month in &bars.months {
        let x = LEFT + pitch * place;
        for (class, amount, shift) in [("bar-before", month.before, 0.12), ("bar", month.after, 0.52)] {
            let height = TALLEST * amount / most;
            ink.rect(
                class,
                Area {
                    x: x + pitch * shift,
                    y: FLOOR - height,
                    width: pitch * 0.36,
                    height,
                },
            );
        }
        if !month.label.is_empty() {
            ink.text(
                "soft",
                (x + pitch * 0.5, FLOOR + 17.0),
                12.0,
                Anchor::Middle,
                &month.label,
            );
        }
        place += 1.0;
    }
    ink.line("line", (LEFT - 4.0, FLOOR), (WIDTH, FLOOR));
    legend(&mut ink);
    ink.finish()
}

fn legend(ink: &mut Ink) {
    let key = |x: f64| Area {
        x,
        y: HEIGHT - 14.0,
        width: 12.0,
        height: 11.0,
    };
    ink.rect("bar-before", key(LEFT));
    ink.text("", (LEFT + 18.0, HEIGHT - 4.0), 12.0, Anchor::Start, "as it is");
    ink.rect("bar", key(LEFT + 96.0));
    ink.text(
        "",
        (LEFT + 114.0, HEIGHT - 4.0),
        12.0,
        Anchor::Start,
        "as it would be",
    );
}
