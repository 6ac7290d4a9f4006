//! The elevation: a building as one sees it from the street, floors as rows, risers as columns, ground where it is.
//! A cell holds its label, how many things are wrong, the worst in a word and a hatch as dense as that is grave, so that
//! a riser with trouble shows as a column, in black and white too. It decides no gravity: the caller says which hatch.
//! A table beside the picture must say the same.

use super::ink::{Anchor, Area, Ink, shorten};

/// How grave the worst of a cell is, as the density of its hatch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hatch {
    /// Sound: an empty cell.
    None,
    /// Nothing is known: a dotted outline.
    Unknown,
    /// To be watched.
    Sparse,
    /// To be repaired.
    Dense,
    /// Unsafe: the densest, with a heavy outline.
    Heavy,
}

/// On which side of the ground line a floor lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// At street level or higher.
    Above,
    /// Below street level.
    Below,
}

/// One unit or common area.
#[derive(Debug, Clone)]
pub struct Cell {
    /// Column of its first riser, from 0 at the left.
    pub riser: usize,
    /// How many columns it takes, at least 1.
    pub span: usize,
    /// The unit's label.
    pub label: String,
    /// How many things are wrong.
    pub count: u32,
    /// The worst in a word or two, empty when nothing is wrong.
    pub word: String,
    /// How grave the worst is.
    pub hatch: Hatch,
    /// Where the cell leads, if anywhere.
    pub href: Option<String>,
}

/// One floor, from the left.
#[derive(Debug, Clone)]
pub struct Floor {
    /// The floor's label as people say it.
    pub label: String,
    /// Side of the ground line.
    pub ground: Ground,
    /// Its units and common areas.
    pub cells: Vec<Cell>,
}

/// A building's front.
#[derive(Debug, Clone)]
pub struct Elevation {
    /// What a screen reader hears instead: the building and its worst.
    pub title: String,
    /// Labels of the columns.
    pub risers: Vec<String>,
    /// Floors from the top down.
    pub floors: Vec<Floor>,
    /// A sentence beneath, when a riser is worth one.
    pub note: Option<String>,
}

/// The measures of one way of drawing it.
#[derive(Debug)]
struct Measures {
    class: &'static str,
    cell_width: f64,
    cell_height: f64,
    gutter: f64,
    label_size: f64,
    label_letters: usize,
    word_letters: usize,
}

const FULL: Measures = Measures {
    class: "elevation elevation-full",
    cell_width: 78.0,
    cell_height: 50.0,
    gutter: 34.0,
    label_size: 13.0,
    label_letters: 8,
    word_letters: 10,
};
const BRIEF: Measures = Measures {
    class: "elevation elevation-brief",
    cell_width: 38.0,
    cell_height: 32.0,
    gutter: 20.0,
    label_size: 13.0,
    label_letters: 4,
    word_letters: 0,
};
const SPACE: f64 = 3.0;
const INSET: f64 = 5.0;

/// Draws the building twice, in full for a desk and with labels only for a phone; the style sheet shows one of them.
#[must_use]
pub fn elevation(front: &Elevation) -> String {
    let mut both = draw(front, &FULL);
    both.push_str(&draw(front, &BRIEF));
    both
}

fn draw(front: &Elevation, m: &Measures) -> String {
    let columns = columns(front);
    let width = m.gutter + f64::from(columns) * (m.cell_width + SPACE) + 8.0;
    let below = front
        .floors
        .iter()
        .filter(|floor| floor.ground == Ground::Below)
        .count();
    let rows = small(front.floors.len());
    let foot = if front.note.is_some() && m.word_letters > 0 {
        48.0
    } else {
        24.0
    };
    let height = 4.0 + f64::from(rows) * (m.cell_height + SPACE) + foot;
    let linked = front
        .floors
        .iter()
        .any(|floor| floor.cells.iter().any(|cell| cell.href.is_some()));
    let open = if linked { Ink::group } else { Ink::image };
    let mut ink = open(m.class, width, height, &front.title);

    for (row, floor) in front.floors.iter().enumerate() {
        let top = 4.0 + f64::from(small(row)) * (m.cell_height + SPACE);
        let middle = top + m.cell_height / 2.0 + 4.0;
        ink.text(
            "soft",
            (m.gutter - 8.0, middle),
            12.0,
            Anchor::End,
            &shorten(&floor.label, 4),
        );
        for cell in &floor.cells {
            draw_cell(&mut ink, cell, m, top);
        }
    }
    let above = small(front.floors.len() - below);
    let ground = 4.0 + f64::from(above) * (m.cell_height + SPACE) - SPACE / 2.0 + 1.0;
    ink.line("ground", (m.gutter - 8.0, ground), (width, ground));

    let under = 4.0 + f64::from(rows) * (m.cell_height + SPACE) + 14.0;
    for (column, label) in front.risers.iter().enumerate() {
        let x = m.gutter + (f64::from(small(column)) + 0.5) * (m.cell_width + SPACE) - SPACE / 2.0;
        let words = if m.word_letters > 0 {
            label.as_str()
        } else {
            label.rsplit(' ').next().unwrap_or(label)
        };
        ink.text(
            "soft",
            (x, under),
            12.0,
            Anchor::Middle,
            &shorten(words, m.label_letters + 3),
        );
    }
    if let Some(note) = front.note.as_deref().filter(|_| m.word_letters > 0) {
        ink.text("wrong bold", (m.gutter, under + 24.0), 13.0, Anchor::Start, note);
    }
    ink.finish()
}

fn draw_cell(ink: &mut Ink, cell: &Cell, m: &Measures, top: f64) {
    let span = f64::from(small(cell.span.max(1)));
    let area = Area {
        x: m.gutter + f64::from(small(cell.riser)) * (m.cell_width + SPACE),
        y: top,
        width: span * (m.cell_width + SPACE) - SPACE,
        height: m.cell_height,
    };
    if let Some(href) = &cell.href {
        ink.link(href);
    }
    ink.rect(outline(cell.hatch), area);
    let inside = Area {
        x: area.x + 2.0,
        y: area.y + 2.0,
        width: area.width - 4.0,
        height: area.height - 4.0,
    };
    match cell.hatch {
        Hatch::None | Hatch::Unknown => {}
        Hatch::Sparse => ink.hatch("hatch-thin", inside, 9.0),
        Hatch::Dense => ink.hatch("hatch", inside, 6.0),
        Hatch::Heavy => ink.hatch("hatch", inside, 3.5),
    }
    let letters = m.label_letters * cell.span.max(1);
    backed(
        ink,
        "bold",
        (area.x + INSET, top + 18.0),
        m.label_size,
        &shorten(&cell.label, letters),
    );
    if m.word_letters > 0 {
        if cell.count > 1 {
            let count = cell.count.to_string();
            let x = area.x + area.width - 6.0 - wide(&count, 12.0);
            backed(ink, "", (x, top + 18.0), 12.0, &count);
        }
        if !cell.word.is_empty() {
            let words = shorten(&cell.word, m.word_letters * cell.span.max(1));
            backed(ink, "", (area.x + INSET, top + 38.0), 12.0, &words);
        }
    }
    if cell.href.is_some() {
        ink.end_link();
    }
}

/// Words on a strip of sheet, so that a hatch beneath does not cross them.
fn backed(ink: &mut Ink, class: &str, at: (f64, f64), size: f64, words: &str) {
    let width = wide(words, size) + 6.0;
    ink.rect(
        "sheet",
        Area {
            x: at.0 - 3.0,
            y: at.1 - size,
            width,
            height: size + 4.0,
        },
    );
    ink.text(class, at, size, Anchor::Start, words);
}

/// A generous guess at a text's width in a system face.
fn wide(words: &str, size: f64) -> f64 {
    f64::from(small(words.chars().count())) * size * 0.63
}

fn outline(hatch: Hatch) -> &'static str {
    match hatch {
        Hatch::Heavy => "cell cell-grave",
        Hatch::Unknown => "cell cell-unknown",
        Hatch::None | Hatch::Sparse | Hatch::Dense => "cell",
    }
}

fn columns(front: &Elevation) -> u32 {
    let widest = front
        .floors
        .iter()
        .flat_map(|floor| &floor.cells)
        .map(|cell| cell.riser + cell.span.max(1))
        .max();
    small(widest.unwrap_or(0).max(front.risers.len()).max(1))
}

/// A count of things on one picture as a drawable number.
fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
