//! Sheets of labels in their true size: a code to scan at the left of each label, and beside it in words where it belongs. The code is
//! an address and nothing else. Always black on white: many scanners can't read a code in pale on dark.

use qrcode::{Color, EcLevel, QrCode};

use super::ink::{Anchor, Ink, shorten};
use crate::domain::printed_label::{LabelGrid, SheetMeasures};

/// What stands on a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// What the code holds: the address that a telephone opens.
    pub address: String,
    /// The end of the address, for whoever types it from a label that can't be scanned any more.
    pub code: String,
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub unit: String,
    /// Label of the place, such as `WC-1`.
    pub place: String,
}

impl Label {
    /// The label of a place; `public_url` is the address of the server without a slash at its end.
    #[must_use]
    pub fn of(public_url: &str, building: &str, code: &str, unit: &str, place: &str) -> Self {
        Self {
            address: format!("{public_url}/l/{code}"),
            code: code.to_owned(),
            building: building.to_owned(),
            unit: unit.to_owned(),
            place: place.to_owned(),
        }
    }
}

/// White around a code that its readers need, in modules (ISO/IEC 18004, quiet zone: four times its module; from memory).
const QUIET: u32 = 4;
/// White at the edge of a label, hundredths of a millimetre: printers shift a sheet by about a millimetre (common practice, no source).
const EDGE: u32 = 90;
/// Width of a letter in bold, as a share of its size; a little more than the system's faces need.
const LETTER_WIDTH: f64 = 0.72;

/// Draws the sheets, the first label at the position `start` (from 1).
///
/// # Errors
/// A sentence when an address is too long for a code of that size.
pub fn label_sheets(grid: LabelGrid, start: u32, labels: &[Label]) -> Result<Vec<String>, String> {
    let sheet = grid.measures();
    let mut sheets: Vec<(Ink, usize)> = Vec::new();
    for (index, label) in (0_u32..).zip(labels) {
        let cell = sheet.cell(start, index);
        while sheets.len() <= cell.sheet {
            let title = format!("Sheet {} of labels to print", sheets.len() + 1);
            sheets.push((Ink::paper("label-paper", sheet.width, sheet.height, &title), 0));
        }
        if let Some((ink, drawn)) = sheets.last_mut() {
            draw(ink, &sheet, (cell.x, cell.y), label)?;
            *drawn += 1;
        }
    }
    let full = sheets.into_iter().filter(|(_, drawn)| *drawn > 0);
    Ok(full.map(|(ink, _)| ink.finish()).collect())
}

fn draw(ink: &mut Ink, sheet: &SheetMeasures, (x, y): (u32, u32), label: &Label) -> Result<(), String> {
    let code = QrCode::with_error_correction_level(label.address.as_bytes(), EcLevel::Q)
        .map_err(|cause| format!("“{}” does not fit into a code: {cause}.", label.address))?;
    let modules = u32::try_from(code.width()).unwrap_or(u32::MAX);
    let module = (sheet.label_height - 2 * EDGE) / (modules + 2 * QUIET);
    let extent = module * (modules + 2 * QUIET);
    let (left, upper) = (
        x + EDGE + QUIET * module,
        y + (sheet.label_height - extent) / 2 + QUIET * module,
    );
    ink.path("label-ink", &dark(&code, (left, upper), module));
    let words_at = x + EDGE + extent;
    let words = Words {
        x: f64::from(words_at),
        width: f64::from(x + sheet.label_width - 2 * EDGE - words_at),
    };
    let height = f64::from(sheet.label_height);
    let line = |share: f64| f64::from(y) + height * share;
    words.write(ink, "label-ink bold", line(0.34), height * 0.24, &label.place);
    words.write(
        ink,
        "label-ink",
        line(0.56),
        height * 0.15,
        &format!("Unit {}", label.unit),
    );
    words.write(ink, "label-ink", line(0.74), height * 0.15, &label.building);
    words.write(ink, "label-ink", line(0.90), height * 0.1, &label.code);
    Ok(())
}

/// A column of words beside a code.
struct Words {
    x: f64,
    width: f64,
}

impl Words {
    /// As large as they may be and still fit; below half of that they are shortened.
    fn write(&self, ink: &mut Ink, class: &str, y: f64, size: f64, words: &str) {
        let fits = |letters: usize| self.width / (LETTER_WIDTH * letters.max(1) as f64);
        let most = (self.width / (LETTER_WIDTH * size * 0.5)).floor().max(1.0) as usize;
        let words = shorten(words, most);
        let size = size.min(fits(words.chars().count()));
        ink.text(class, (self.x, y), size, Anchor::Start, &words);
    }
}

/// The dark modules as one path, a run of a row at a time.
fn dark(code: &QrCode, (left, upper): (u32, u32), module: u32) -> String {
    let width = code.width();
    let colours = code.to_colors();
    let mut path = String::new();
    for (row, cells) in (0_u32..).zip(colours.chunks(width)) {
        let mut column = 0;
        for run in cells.chunk_by(|one, next| one == next) {
            let length = u32::try_from(run.len()).unwrap_or_default();
            if run.first() == Some(&Color::Dark) {
                let (x, y, long) = (left + column * module, upper + row * module, length * module);
                path.push_str(&format!("M{x} {y}h{long}v{module}h-{long}z"));
            }
            column += length;
        }
    }
    path
}
