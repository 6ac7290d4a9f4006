//! Where things stand on which page. Takes things from above to below; whoever lays a thing says how high it is and what must stay
//! with it.

use super::font::Faces;
use super::style::{BOTTOM, Beneath, Ink, SIDE, TOP};
use super::tags::{Kind, NodeId, Nodes};
use super::text::{Line, wrapped};
use super::{Sheet, style::Style};

/// Something on a page. Points from the upper left corner; text at its base line.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    Text {
        x: f32,
        y: f32,
        line: Line,
    },
    Rule {
        x: f32,
        y: f32,
        width: f32,
        thick: f32,
        ink: Ink,
    },
    Frame {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
    },
    Photo {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        jpeg: Vec<u8>,
    },
    Drawn {
        x: f32,
        y: f32,
        scale: f32,
        path: String,
    },
}

/// A mark, and which piece of the paper it is; none for what is no part of the text, such as rules.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub node: Option<NodeId>,
    pub mark: Mark,
}

/// What is laid: pages, the tree of pieces, and where each heading stands (page from 0, points from above).
pub(super) struct Laid {
    pub pages: Vec<Vec<Placed>>,
    pub nodes: Nodes,
    pub headings: Vec<(String, usize, f32)>,
    /// The width and height of the sheet.
    pub sheet: (f32, f32),
}

/// Pages while they are laid.
pub(super) struct Flow<'a> {
    pub faces: &'a Faces,
    pub nodes: Nodes,
    pages: Vec<Vec<Placed>>,
    headings: Vec<(String, usize, f32)>,
    sheet: (f32, f32),
    y: f32,
}

impl<'a> Flow<'a> {
    pub fn new(faces: &'a Faces, sheet: Sheet) -> Self {
        Self {
            faces,
            nodes: Nodes::new(),
            pages: vec![Vec::new()],
            headings: Vec::new(),
            sheet: sheet.points(),
            y: TOP,
        }
    }

    /// Width of what is printed.
    pub fn width(&self) -> f32 {
        self.sheet.0 - 2.0 * SIDE
    }

    /// Height of a page's text.
    pub fn page_height(&self) -> f32 {
        self.sheet.1 - TOP - BOTTOM
    }

    /// What is left of this page.
    pub fn room(&self) -> f32 {
        self.sheet.1 - BOTTOM - self.y
    }

    /// Whether nothing stands on this page yet.
    pub fn is_at_top(&self) -> bool {
        self.y <= TOP
    }

    /// Where the next thing stands.
    pub const fn y(&self) -> f32 {
        self.y
    }

    /// Goes down by so much, but not off the top of a page.
    pub fn space(&mut self, points: f32) {
        if !self.is_at_top() {
            self.y += points;
        }
    }

    /// Goes down by what was laid.
    pub fn down(&mut self, points: f32) {
        self.y += points;
    }

    pub fn new_page(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP;
    }

    /// Goes to a new page when so much does not fit on this one. What is higher than a page begins where it is.
    pub fn keep_together(&mut self, height: f32) {
        if height > self.room() && height <= self.page_height() && !self.is_at_top() {
            self.new_page();
        }
    }

    pub fn put(&mut self, node: Option<NodeId>, mark: Mark) {
        if let Some(page) = self.pages.last_mut() {
            page.push(Placed { node, mark });
        }
    }

    pub fn rule(&mut self, (x, y): (f32, f32), width: f32, thick: f32, ink: Ink) {
        self.put(
            None,
            Mark::Rule {
                x,
                y,
                width,
                thick,
                ink,
            },
        );
    }

    /// Puts lines beneath each other from a point on, which is their upper left corner.
    pub fn lines(&mut self, node: Option<NodeId>, (x, mut y): (f32, f32), lines: &[Line]) {
        for line in lines {
            let base = y + line.style.leading * 0.76;
            self.put(
                node,
                Mark::Text {
                    x,
                    y: base,
                    line: line.clone(),
                },
            );
            if line.style.beneath == Beneath::Line {
                let width = self.faces.width(line.style, line.text.trim_end());
                self.rule((x, base + 1.4), width, 0.5, line.style.ink);
            }
            y += line.style.leading;
        }
    }

    /// A paragraph of its own.
    pub fn paragraph(&mut self, within: NodeId, text: &str, style: Style) {
        let lines = wrapped(self.faces, text, style, self.width());
        if lines.is_empty() {
            return;
        }
        let node = self.nodes.add(within, Kind::Paragraph);
        self.keep_together(super::text::height(&lines));
        for line in lines {
            if line.style.leading > self.room() {
                self.new_page();
            }
            self.lines(Some(node), (SIDE, self.y), std::slice::from_ref(&line));
            self.down(line.style.leading);
        }
    }

    /// A heading, which is in the list of the file's headings too.
    pub fn heading(&mut self, within: NodeId, level: u16, text: &str, style: Style) {
        let lines = wrapped(self.faces, text, style, self.width());
        if lines.is_empty() {
            return;
        }
        let node = self.nodes.add(within, Kind::Heading(level, text.to_owned()));
        self.headings
            .push((text.to_owned(), self.pages.len().saturating_sub(1), self.y));
        self.lines(Some(node), (SIDE, self.y), &lines);
        self.down(super::text::height(&lines));
    }

    pub fn finish(self) -> Laid {
        Laid {
            pages: self.pages,
            nodes: self.nodes,
            headings: self.headings,
            sheet: self.sheet,
        }
    }
}
