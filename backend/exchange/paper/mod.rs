//! A paper that is printed and kept: a title, facts, tables of three columns, photos, notes, signatures, as one HTML file that needs
//! nothing else. The same value gives the same bytes. Decides how it looks; knows nothing of what it says. The same as a PDF: `pdf`.
//!
//! ```
//! use anglestop::exchange::paper::{Paper, html};
//! let paper = Paper { title: "Turnover record 3".to_owned(), ..Paper::default() };
//! let text = String::from_utf8(html(&paper))?;
//! assert!(text.starts_with("<!doctype html>"));
//! assert!(text.contains("<h1>Turnover record 3</h1>"));
//! let hostile = Paper { title: "<b>&\"".to_owned(), ..Paper::default() };
//! assert!(String::from_utf8(html(&hostile))?.contains("<h1>&lt;b&gt;&amp;&quot;</h1>"));
//! # Ok::<(), std::string::FromUtf8Error>(())
//! ```

mod drawn;
mod html;

pub use drawn::{HEIGHT as DRAWN_HEIGHT, Stroke, WIDTH as DRAWN_WIDTH, strokes};
pub use html::{html, style_of};

/// What the bytes are.
pub const MEDIA_TYPE: &str = "text/html; charset=utf-8";

/// A paper.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Paper {
    /// What it is.
    pub title: String,
    /// Of what.
    pub subject: String,
    /// Label and value.
    pub facts: Vec<(String, String)>,
    /// In this order.
    pub sections: Vec<Section>,
    /// Who signed or is to sign; none for an unsigned paper.
    pub signatures: Vec<Signature>,
    /// Small print, a paragraph each.
    pub foot: Vec<String>,
    /// A word for programs that stands in the file and says which paper it is; empty for none.
    pub mark: String,
}

/// A part of a paper with a heading.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// Heading.
    pub heading: String,
    /// Paragraphs before the table.
    pub lead: Vec<String>,
    /// Heads of the three columns.
    pub columns: [&'static str; 3],
    /// Its rows, none of which is split between pages.
    pub rows: Vec<Row>,
    /// Photos with their captions, after the table.
    pub photos: Vec<Photo>,
}

/// A photo: shown in the PDF, named and linked on the page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Photo {
    /// What it shows, in a line.
    pub caption: String,
    /// Small words beneath, a line each.
    pub under: Vec<String>,
    /// Where a page may find it; empty for nowhere.
    pub link: String,
    /// The picture; none while it is to come or when it can't be shown.
    pub jpeg: Option<Vec<u8>>,
    /// What stands in its place when there is no picture.
    pub instead: String,
}

/// One row: a head and two cells.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Row {
    /// What it is about.
    pub head: String,
    /// Small words beneath the head, may be empty.
    pub under: String,
    /// The second cell, a line each; the first is set bold when the row is grave.
    pub middle: Vec<String>,
    /// The third cell, a line each.
    pub last: Vec<String>,
    /// Whether it tells of something wrong.
    pub weight: Weight,
}

/// How much a row matters.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Weight {
    /// As the others.
    #[default]
    Plain,
    /// Something is wrong or was not seen.
    Grave,
}

/// Who signed, or a line to sign on.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Signature {
    /// The name as typed; empty for a line that is still to be signed.
    pub name: String,
    /// The signature as drawn, a path of M and L commands in a box of 1000 by 300; empty when there is none.
    pub drawn: String,
    /// When and by which account, or who is to sign.
    pub beneath: String,
}
