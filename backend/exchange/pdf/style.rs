//! Sizes and distances of the PDF, in points of 1/72 inch, and the few ways in which its text is set.

/// From the left and right edge of the sheet to what is printed.
pub(super) const SIDE: f32 = 46.0;
/// From the upper edge to the first line. An A4 page loses 25 points above and below on Letter.
pub(super) const TOP: f32 = 50.0;
/// From the lower edge to the last line.
pub(super) const BOTTOM: f32 = 72.0;
/// From the lower edge to the base line of the page's number.
pub(super) const NUMBER: f32 = 48.0;
/// Width of the labels of facts.
pub(super) const LABELS: f32 = 104.0;
/// Between columns.
pub(super) const GAP: f32 = 10.0;
/// Above and below the text of a row.
pub(super) const ROW: f32 = 3.2;
/// Share of the width that each column of a table has.
pub(super) const COLUMNS: [f32; 3] = [0.32, 0.44, 0.24];

/// Weight of the letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
}

/// Strength of the ink, as lightness from 0 (black) to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    Dark,
    Soft,
    Rule,
}

impl Ink {
    pub const fn lightness(self) -> u8 {
        match self {
            Self::Dark => 17,
            Self::Soft => 80,
            Self::Rule => 176,
        }
    }
}

/// Whether a line stands beneath the letters: how something wrong is marked beside its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beneath {
    Nothing,
    Line,
}

/// How a line of text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    pub size: f32,
    pub leading: f32,
    pub weight: Weight,
    pub ink: Ink,
    pub beneath: Beneath,
}

const fn style(size: f32, weight: Weight, ink: Ink) -> Style {
    Style {
        size,
        leading: size * 1.38,
        weight,
        ink,
        beneath: Beneath::Nothing,
    }
}

pub(super) const TITLE: Style = style(17.0, Weight::Bold, Ink::Dark);
pub(super) const SUBJECT: Style = style(11.0, Weight::Regular, Ink::Dark);
pub(super) const HEADING: Style = style(10.5, Weight::Bold, Ink::Dark);
pub(super) const TEXT: Style = style(8.5, Weight::Regular, Ink::Dark);
pub(super) const LABEL: Style = style(8.5, Weight::Regular, Ink::Soft);
pub(super) const SMALL: Style = style(7.2, Weight::Regular, Ink::Soft);
pub(super) const NAME: Style = style(12.0, Weight::Bold, Ink::Dark);
/// What is wrong: bold and underlined, so that it is seen on any printer.
pub(super) const GRAVE: Style = Style {
    beneath: Beneath::Line,
    ..style(8.5, Weight::Bold, Ink::Dark)
};
