//! The fonts that are in every file: DejaVu Sans, regular and bold, whose licence (seeds/fonts) lets a program carry them. Decides
//! which characters can be drawn; knows nothing of lines.

use std::sync::OnceLock;

use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::style::{Style, Weight};
use crate::error::{Error, Result};

const REGULAR: &[u8] = include_bytes!("../../../seeds/fonts/DejaVuSans.ttf");
const BOLD: &[u8] = include_bytes!("../../../seeds/fonts/DejaVuSans-Bold.ttf");
/// Drawn where a character can't be.
const BOX: char = '\u{25a1}';

/// Both weights.
pub(super) struct Faces {
    regular: Face,
    bold: Face,
}

/// One weight.
pub(super) struct Face {
    read: ttf_parser::Face<'static>,
    pub font: Font,
    units: f32,
}

impl Faces {
    /// The fonts, read once.
    pub fn ours() -> Result<&'static Self> {
        static OURS: OnceLock<Option<Faces>> = OnceLock::new();
        OURS.get_or_init(|| {
            Some(Self {
                regular: Face::read(REGULAR)?,
                bold: Face::read(BOLD)?,
            })
        })
        .as_ref()
        .ok_or_else(|| Error::internal("a font of seeds/fonts can't be read"))
    }

    pub const fn of(&self, weight: Weight) -> &Face {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// Width of a text in points.
    pub fn width(&self, style: Style, text: &str) -> f32 {
        let face = self.of(style.weight);
        text.chars().map(|c| face.advance(face.glyph(c))).sum::<f32>() * style.size
    }

    /// Whether both weights have the character and it is written from left to right.
    pub fn draws(&self, c: char) -> bool {
        [&self.regular, &self.bold]
            .iter()
            .all(|face| face.own_glyph(c).is_some())
    }
}

impl Face {
    fn read(bytes: &'static [u8]) -> Option<Self> {
        let read = ttf_parser::Face::parse(bytes, 0).ok()?;
        let units = f32::from(read.units_per_em());
        Some(Self {
            read,
            font: Font::new(bytes.to_vec().into(), 0)?,
            units,
        })
    }

    fn own_glyph(&self, c: char) -> Option<ttf_parser::GlyphId> {
        // Without the shaping and turning that they need, these would come out as other words.
        let is_right_to_left =
            matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}');
        self.read.glyph_index(c).filter(|_| !is_right_to_left)
    }

    fn glyph(&self, c: char) -> ttf_parser::GlyphId {
        let glyph = self.own_glyph(c).or_else(|| self.own_glyph(BOX));
        glyph.unwrap_or(ttf_parser::GlyphId(0))
    }

    /// In ems.
    fn advance(&self, glyph: ttf_parser::GlyphId) -> f32 {
        f32::from(self.read.glyph_hor_advance(glyph).unwrap_or(0)) / self.units
    }

    /// A glyph for each character, as wide as [`Faces::width`] says: no pairs are drawn closer, so figures stand beneath each other.
    pub fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        let chars = text.char_indices();
        chars
            .map(|(at, c)| {
                let glyph = self.glyph(c);
                let id = GlyphId::new(u32::from(glyph.0));
                KrillaGlyph::new(
                    id,
                    self.advance(glyph),
                    0.0,
                    0.0,
                    0.0,
                    at..at + c.len_utf8(),
                    None,
                )
            })
            .collect()
    }
}
