//! A paper that is printed and kept: a title, facts, tables of three columns, notes, a signature, as one HTML file that needs nothing
//! else. The same value gives the same bytes. Decides how it looks; knows nothing of what it says.
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

mod html;

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
    /// Who signed, and the words beneath; none for an unsigned paper.
    pub signature: Option<Signature>,
    /// Small print, a paragraph each.
    pub foot: Vec<String>,
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

/// Who signed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Signature {
    /// The name as typed.
    pub name: String,
    /// When and by which account.
    pub beneath: String,
}
