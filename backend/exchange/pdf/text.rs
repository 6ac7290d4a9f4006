//! Words to lines of a width. A word that is wider than the line is broken where it must be.

use unicode_normalization::UnicodeNormalization as _;

use super::font::Faces;
use super::style::Style;

/// A line of text and how it is set.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub text: String,
    pub style: Style,
}

/// The lines of a text, none of them wider than `width` points; nothing for an empty text. A line that goes on ends with a space, so
/// that its last word does not run into the next when the text is copied.
pub(super) fn wrapped(faces: &Faces, text: &str, style: Style, width: f32) -> Vec<Line> {
    let clean: String = text.nfc().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in clean.split_whitespace() {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if faces.width(style, &longer) <= width {
            line = longer;
            continue;
        }
        // A word of more than a line, such as a sum, begins where it stands.
        if !line.is_empty() && faces.width(style, word) > width {
            line = broken(faces, &longer, style, width, &mut lines);
            continue;
        }
        if !line.is_empty() {
            line.push(' ');
            lines.push(std::mem::take(&mut line));
        }
        line = broken(faces, word, style, width, &mut lines);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines.into_iter().map(|text| Line { text, style }).collect()
}

/// Puts the full lines of a word to the others and answers with its rest.
fn broken(faces: &Faces, word: &str, style: Style, width: f32, lines: &mut Vec<String>) -> String {
    let (mut part, mut wide) = (String::new(), 0.0);
    for c in word.chars() {
        let more = faces.width(style, c.encode_utf8(&mut [0; 4]));
        if wide + more > width && !part.is_empty() {
            lines.push(std::mem::take(&mut part));
            wide = 0.0;
        }
        part.push(c);
        wide += more;
    }
    part
}

/// The height of lines in points.
pub(super) fn height(lines: &[Line]) -> f32 {
    lines.iter().map(|line| line.style.leading).sum()
}
