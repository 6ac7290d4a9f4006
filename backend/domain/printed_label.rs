//! Printed labels: the random code that a label's address ends in, and the grids of label sheets. Decides which codes there are and which
//! cell of which sheet a label gets. It draws nothing and is given its chance; a code holds nothing of the place that it leads to.

use super::code::words;

/// The characters of a code: 32 that can't be taken for each other when they are read aloud or typed from a scratched label.
///
/// # Source
/// Crockford's Base 32, which leaves out I, L, O and U (from memory).
const ALPHABET: [char; 32] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'j', 'k', 'm',
    'n', 'p', 'q', 'r', 's', 't', 'v', 'w', 'x', 'y', 'z',
];

/// Characters of a code; ten of 32 are 50 bits.
pub const CODE_LENGTH: usize = 10;

/// The random end of a label's address.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct LabelCode(String);

impl LabelCode {
    /// The code of random bytes: the last five bits of each choose a character, so that every code is as likely as any other.
    ///
    /// ```
    /// use anglestop::domain::printed_label::LabelCode;
    /// assert_eq!(LabelCode::of([0, 31, 32, 63, 9, 10, 255, 18, 21, 1]).as_str(), "0z0z9azjn1");
    /// ```
    #[must_use]
    pub fn of(chance: [u8; CODE_LENGTH]) -> Self {
        let letter = |byte: u8| ALPHABET.get(usize::from(byte % 32)).copied();
        Self(chance.into_iter().filter_map(letter).collect())
    }

    /// Reads a code as it was scanned or typed: capitals or not, O for 0, I or L for 1. None when it can't be one.
    ///
    /// ```
    /// use anglestop::domain::printed_label::LabelCode;
    /// let read = LabelCode::read(" OZ0Z9AZJNI ");
    /// assert_eq!(read.map(|code| code.as_str().to_owned()).as_deref(), Some("0z0z9azjn1"));
    /// assert_eq!(LabelCode::read("0z0z9azjn"), None);
    /// ```
    #[must_use]
    pub fn read(given: &str) -> Option<Self> {
        let meant = |letter: char| match letter.to_ascii_lowercase() {
            'o' => '0',
            'i' | 'l' => '1',
            other => other,
        };
        let code: String = given.trim().chars().map(meant).collect();
        let is_code =
            code.chars().count() == CODE_LENGTH && code.chars().all(|letter| ALPHABET.contains(&letter));
        is_code.then_some(Self(code))
    }

    /// As printed and as kept.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

words! {
    /// How the labels lie on a sheet.
    LabelGrid "label grid" {
        Letter30 = "letter_30", "Letter, 30 of 2 5/8 × 1 in";
        A424 = "a4_24", "A4, 24 of 63.5 × 33.9 mm";
    }
}

/// The measures of a sheet, in hundredths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetMeasures {
    /// Width of the paper.
    pub width: u32,
    /// Height of the paper.
    pub height: u32,
    /// From the left edge to the first label.
    pub side: u32,
    /// From the upper edge to the first label.
    pub top: u32,
    /// Width of a label.
    pub label_width: u32,
    /// Height of a label.
    pub label_height: u32,
    /// From the left edge of a label to that of its neighbour.
    pub across: u32,
    /// From the upper edge of a label to that of the one beneath.
    pub down: u32,
    /// Labels beside each other.
    pub columns: u32,
    /// Labels above each other.
    pub rows: u32,
}

impl LabelGrid {
    /// The measures of a sheet.
    ///
    /// # Source
    /// Common practice, no source: Letter 3 × 10 labels of 2 5/8 × 1 in, margins 1/2 in at the top and 3/16 in at the side, 1/8 in between
    /// columns; A4 3 × 8 labels of 63.5 × 33.9 mm, 2.5 mm between columns, the rest of the sheet shared by its margins.
    #[must_use]
    pub const fn measures(self) -> SheetMeasures {
        match self {
            Self::Letter30 => SheetMeasures {
                width: 21_590,
                height: 27_940,
                side: 476,
                top: 1_270,
                label_width: 6_668,
                label_height: 2_540,
                across: 6_985,
                down: 2_540,
                columns: 3,
                rows: 10,
            },
            Self::A424 => SheetMeasures {
                width: 21_000,
                height: 29_700,
                side: 725,
                top: 1_290,
                label_width: 6_350,
                label_height: 3_390,
                across: 6_600,
                down: 3_390,
                columns: 3,
                rows: 8,
            },
        }
    }

    /// Labels on a whole sheet.
    #[must_use]
    pub const fn capacity(self) -> u32 {
        let measures = self.measures();
        measures.columns * measures.rows
    }

    /// The position where the first label goes, counted from 1, row by row: the way to use up a sheet that was begun.
    ///
    /// # Errors
    /// A sentence when the sheet has no such position.
    ///
    /// ```
    /// use anglestop::domain::printed_label::LabelGrid;
    /// assert_eq!(LabelGrid::A424.start(""), Ok(1));
    /// assert_eq!(LabelGrid::A424.start("24"), Ok(24));
    /// assert!(LabelGrid::A424.start("25").is_err());
    /// ```
    pub fn start(self, given: &str) -> Result<u32, String> {
        let capacity = self.capacity();
        match given.trim() {
            "" => Ok(1),
            text => text
                .parse()
                .ok()
                .filter(|start| (1..=capacity).contains(start))
                .ok_or_else(|| {
                    format!("There is no position “{text}” on this sheet. Count its labels row by row and give 1 to {capacity}.")
                }),
        }
    }
}

/// Where a label lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cell {
    /// Which sheet, from 0.
    pub sheet: usize,
    /// Left edge in hundredths of a millimetre.
    pub x: u32,
    /// Upper edge in hundredths of a millimetre.
    pub y: u32,
}

impl SheetMeasures {
    /// Where the label number `index` (from 0) lies when the first one goes to the position `start` (from 1).
    #[must_use]
    pub fn cell(&self, start: u32, index: u32) -> Cell {
        let position = start.saturating_sub(1) + index;
        let on_sheet = position % (self.columns * self.rows);
        Cell {
            sheet: usize::try_from(position / (self.columns * self.rows)).unwrap_or(usize::MAX),
            x: self.side + (on_sheet % self.columns) * self.across,
            y: self.top + (on_sheet / self.columns) * self.down,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::code::Coded as _;

    #[test]
    fn every_label_lies_on_its_paper_and_none_on_another() {
        for grid in LabelGrid::ALL {
            let sheet = grid.measures();
            let cells: Vec<Cell> = (0..grid.capacity()).map(|index| sheet.cell(1, index)).collect();
            for (at, cell) in cells.iter().enumerate() {
                assert_eq!(cell.sheet, 0);
                assert!(
                    cell.x + sheet.label_width + sheet.side <= sheet.width + 5,
                    "{grid} {at}"
                );
                assert!(
                    cell.y + sheet.label_height + sheet.top <= sheet.height,
                    "{grid} {at}"
                );
                let beneath = cells.iter().skip(at + 1);
                assert!(
                    beneath
                        .into_iter()
                        .all(|other| other.x >= cell.x + sheet.label_width
                            || cell.x >= other.x + sheet.label_width
                            || other.y >= cell.y + sheet.label_height),
                    "{grid} {at}"
                );
            }
        }
    }

    #[test]
    fn a_begun_sheet_is_used_up_before_the_next() {
        let sheet = LabelGrid::Letter30.measures();
        assert_eq!(sheet.cell(29, 0).sheet, 0);
        assert_eq!(sheet.cell(29, 1), sheet.cell(1, 29));
        assert_eq!((sheet.cell(29, 2).sheet, sheet.cell(29, 2).x), (1, sheet.side));
    }
}
