//! Writes SVG elements as text: numbers kept short, words escaped, hatches computed as plain strokes.
//! It decides how a shape is written, never where it stands.

use std::fmt::Write as _;

/// Which end of a text its point holds.
#[derive(Debug, Clone, Copy)]
pub enum Anchor {
    /// The text starts at the point.
    Start,
    /// The text is centred on the point.
    Middle,
    /// The text ends at the point.
    End,
}

/// An upright rectangle in the picture's own units.
#[derive(Debug, Clone, Copy)]
pub struct Area {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Extent to the right.
    pub width: f64,
    /// Extent downwards.
    pub height: f64,
}

/// An SVG document being written.
#[derive(Debug)]
pub struct Ink {
    svg: String,
}

impl Ink {
    /// Opens a picture that is one image to a screen reader, named by `title`.
    pub fn image(class: &str, width: f64, height: f64, title: &str) -> Self {
        Self::open(class, width, height, title, "img")
    }

    /// Opens a picture whose parts can be followed as links, so that it is a group and not one image.
    pub fn group(class: &str, width: f64, height: f64, title: &str) -> Self {
        Self::open(class, width, height, title, "group")
    }

    /// Opens a sheet of paper that is printed in its true size; everything on it is measured in hundredths of a millimetre.
    pub fn paper(class: &str, width: u32, height: u32, title: &str) -> Self {
        let millimetres = |hundredths: u32| format!("{}.{:02}mm", hundredths / 100, hundredths % 100);
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{class}\" viewBox=\"0 0 {width} {height}\" width=\"{}\" height=\"{}\" role=\"img\"><title>{}</title>",
            millimetres(width),
            millimetres(height),
            escape(title)
        );
        Self { svg }
    }

    fn open(class: &str, width: f64, height: f64, title: &str, role: &str) -> Self {
        let (w, h, words) = (number(width), number(height), escape(title));
        let name = if role == "group" {
            format!(" aria-label=\"{words}\"")
        } else {
            String::new()
        };
        let mut svg = String::with_capacity(1024);
        let _ = write!(
            svg,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"pic {class}\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" role=\"{role}\"{name}>"
        );
        if role == "img" {
            let _ = write!(svg, "<title>{words}</title>");
        }
        Self { svg }
    }

    /// A stroke from one point to another.
    pub fn line(&mut self, class: &str, from: (f64, f64), to: (f64, f64)) {
        let d = format!(
            "M{} {}L{} {}",
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1)
        );
        self.path(class, &d);
    }

    /// A path by its own commands; numbers in it should come from [`number`].
    pub fn path(&mut self, class: &str, d: &str) {
        let _ = write!(self.svg, "<path class=\"{class}\" d=\"{d}\"/>");
    }

    /// A rectangle.
    pub fn rect(&mut self, class: &str, area: Area) {
        let Area { x, y, width, height } = area;
        let (x, y, w, h) = (number(x), number(y), number(width), number(height));
        let _ = write!(
            self.svg,
            "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"/>"
        );
    }

    /// A circle.
    pub fn circle(&mut self, class: &str, centre: (f64, f64), radius: f64) {
        let (x, y, r) = (number(centre.0), number(centre.1), number(radius));
        let _ = write!(
            self.svg,
            "<circle class=\"{class}\" cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>"
        );
    }

    /// Words at a baseline point. A space before them keeps the words of one link apart when it is read aloud.
    pub fn text(&mut self, class: &str, at: (f64, f64), size: f64, anchor: Anchor, words: &str) {
        let (x, y, size) = (number(at.0), number(at.1), number(size));
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let class = if class.is_empty() {
            String::new()
        } else {
            format!(" class=\"{class}\"")
        };
        let _ = write!(
            self.svg,
            " <text{class} x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{anchor}>{}</text>",
            escape(words)
        );
    }

    /// Slanted strokes that fill an area, `gap` apart along its width, cut at its edges without a clip path.
    pub fn hatch(&mut self, class: &str, area: Area, gap: f64) {
        let d = hatch(area, gap);
        if !d.is_empty() {
            self.path(class, &d);
        }
    }

    /// Opens a link, named by the texts inside it; close it with [`Ink::end_link`].
    pub fn link(&mut self, href: &str) {
        let _ = write!(self.svg, "<a href=\"{}\">", escape(href));
    }

    /// Opens a link whose name is not what stands in it; close it with [`Ink::end_link`].
    pub fn link_named(&mut self, href: &str, name: &str) {
        let _ = write!(
            self.svg,
            "<a href=\"{}\" aria-label=\"{}\">",
            escape(href),
            escape(name)
        );
    }

    /// Closes the link.
    pub fn end_link(&mut self) {
        self.svg.push_str("</a>");
    }

    /// The finished picture.
    pub fn finish(mut self) -> String {
        self.svg.push_str("</svg>");
        self.svg
    }
}

/// A number with at most one decimal, as short as it can be written.
pub fn number(value: f64) -> String {
    let mut text = String::new();
    push_number(&mut text, value);
    text
}

/// Writes a number as [`number`] does. A page of lines holds thousands of them, so they are written as whole tenths.
fn push_number(text: &mut String, value: f64) {
    let tenths = (value * 10.0).round();
    if tenths < 0.0 {
        text.push('-');
    }
    let tenths = tenths.abs() as u64;
    push_whole(text, tenths / 10);
    if let tenth @ 1.. = tenths % 10 {
        text.push('.');
        push_whole(text, tenth);
    }
}

fn push_whole(text: &mut String, number: u64) {
    if number >= 10 {
        push_whole(text, number / 10);
    }
    text.push(char::from(b'0' + (number % 10) as u8));
}

/// Text that is safe between tags and inside double quotes.
pub fn escape(words: &str) -> String {
    let mut safe = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            other => safe.push(other),
        }
    }
    safe
}

/// Cuts words that are longer than `letters`, with an ellipsis in the last place.
pub fn shorten(words: &str, letters: usize) -> String {
    if words.chars().count() <= letters {
        return words.to_owned();
    }
    let kept: String = words.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// The path of strokes rising to the right at 45 degrees inside `area`.
fn hatch(area: Area, gap: f64) -> String {
    let Area { x, y, width, height } = area;
    let mut d = String::new();
    if width <= 0.0 || height <= 0.0 || gap <= 0.0 {
        return d;
    }
    // A stroke leaves the lower edge (or the left one) at offset `at` and climbs until it meets the top or the right edge.
    let mut at = gap - height;
    while at < width {
        let start = at.max(0.0);
        let end = (at + height).min(width);
        if end - start > 0.5 {
            d.push('M');
            push_number(&mut d, x + start);
            d.push(' ');
            push_number(&mut d, y + height - (start - at));
            d.push('l');
            push_number(&mut d, end - start);
            push_number(&mut d, start - end);
        }
        at += gap;
    }
    d
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_from_people_can_not_open_a_tag() {
        assert_eq!(escape("<b a=\"1\">&'"), "&lt;b a=&quot;1&quot;&gt;&amp;&#39;");
    }

    #[test]
    fn hatch_strokes_stay_inside_their_area() {
        let d = hatch(
            Area {
                x: 10.0,
                y: 20.0,
                width: 9.0,
                height: 8.0,
            },
            4.0,
        );
        let strokes: Vec<&str> = d.split('M').skip(1).collect();
        assert_eq!(strokes.len(), 4, "{d}");
        for stroke in strokes {
            let numbers = stroke
                .split(['l', ' ', '-'])
                .filter_map(|number| number.parse().ok());
            let numbers: Vec<f64> = numbers.collect();
            let [x, y, run, up] = numbers[..] else {
                panic!("{stroke} is no stroke");
            };
            assert!((run - up).abs() < 1e-9, "it rises at 45 degrees");
            assert!(x >= 10.0 && x + run <= 19.0, "{d}");
            assert!(y <= 28.0 && y - run >= 20.0, "{d}");
        }
    }

    #[test]
    fn numbers_have_at_most_one_decimal() {
        let written = [0.0, -0.04, 0.05, 7.0, -12.34, 99.96, 1_234.5].map(number);
        assert_eq!(written, ["0", "0", "0.1", "7", "-12.3", "100", "1234.5"]);
    }

    #[test]
    fn an_area_without_extent_has_no_hatch() {
        assert_eq!(
            hatch(
                Area {
                    x: 0.0,
                    y: 0.0,
                    width: 0.0,
                    height: 8.0
                },
                4.0
            ),
            ""
        );
    }

    #[test]
    fn long_words_end_in_an_ellipsis() {
        assert_eq!(shorten("lobby, laundry", 8), "lobby,…");
        assert_eq!(shorten("204", 8), "204");
    }
}
