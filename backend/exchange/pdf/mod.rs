//! A paper as a PDF file: our own layout of headings, facts, tables, photos and signatures on Letter or A4. The same value gives the
//! same bytes: no clock is asked, the only date in the file is the one that it is given.
//!
//! - A row is never split between pages, unless it is higher than a page; the head of its table stands again on each page.
//! - Text can be searched, copied and read aloud in its order (tagged as PDF/UA-1, ISO 14289-1, asks; the writer checks what a program
//!   can check of it). Fonts are in the file, cut down to the characters that it uses.
//! - A character that the fonts don't have, or that is written from right to left, is drawn as a box, keeps its text, and a line at the
//!   end says so.
//! - What is printed stays within both sheets, so that an A4 file prints on Letter and the other way round at its own size.

mod block;
mod drawing;
mod flow;
mod font;
mod photos;
mod style;
mod table;
mod tags;
mod text;
mod write;

#[cfg(test)]
mod tests;

use chrono::NaiveDateTime;

use self::flow::Flow;
use self::font::Faces;
use super::paper::Paper;
use crate::error::Result;

/// What the bytes are.
pub const MEDIA_TYPE: &str = "application/pdf";

/// The sheet of paper that a file is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// 8.5 by 11 inches.
    Letter,
    /// 210 by 297 mm, ISO 216.
    A4,
}

impl Sheet {
    /// Width and height in points of 1/72 inch.
    #[must_use]
    pub const fn points(self) -> (f32, f32) {
        match self {
            Self::Letter => (612.0, 792.0),
            Self::A4 => (595.28, 841.89),
        }
    }
}

/// What a file needs beside its paper.
#[derive(Debug, Clone, Copy)]
pub struct Making {
    /// Its sheet.
    pub sheet: Sheet,
    /// UTC, the date that stands in the file.
    pub made_at: NaiveDateTime,
}

/// The bytes of a paper as PDF, and how many pages it has.
///
/// # Errors
/// When a font of ours can't be read or the file can't be made, which is nobody's mistake but ours.
pub fn pdf(paper: &Paper, making: Making) -> Result<(Vec<u8>, usize)> {
    let faces = Faces::ours()?;
    let mut flow = Flow::new(faces, making.sheet);
    block::paper(&mut flow, paper);
    let laid = flow.finish();
    let pages = laid.pages.len();
    Ok((write::write(paper, making, faces, &laid)?, pages))
}
