//! Laid pages to the bytes of a file. Nothing is decided here but how a mark is said in PDF.

use chrono::{Datelike as _, NaiveDateTime, Timelike as _};
use krilla::color::luma;
use krilla::configure::{Configuration, Validator};
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::image::Image;
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineCap, LineJoin, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{ArtifactType, ContentTag, Identifier, SpanTag};
use krilla::{Document, SerializeSettings};

use super::Making;
use super::flow::{Laid, Mark, Placed};
use super::font::Faces;
use super::style::{Ink, NUMBER, SIDE, SMALL};
use super::tags::NodeId;
use super::text::{Line, wrapped};
use crate::error::{Error, Result};
use crate::exchange::paper::{Paper, strokes};

/// Thickness of the pen in the box of 1000 by 300.
const PEN: f32 = 6.0;

pub(super) fn write(paper: &Paper, making: Making, faces: &Faces, laid: &Laid) -> Result<Vec<u8>> {
    let settings = SerializeSettings {
        configuration: Configuration::new_with_validator(Validator::UA1),
        ..SerializeSettings::default()
    };
    let mut document = Document::new_with(settings);
    let mut marked = Vec::new();
    let (width, height) = laid.sheet;
    for (index, marks) in laid.pages.iter().enumerate() {
        let settings =
            PageSettings::from_wh(width, height).ok_or_else(|| Error::internal("no such sheet"))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        draw_page(&mut surface, faces, marks, &mut marked);
        foot_of_page(&mut surface, faces, paper, (index + 1, laid));
        surface.finish();
        page.finish();
    }
    document.set_tag_tree(laid.nodes.tree(&marked));
    document.set_outline(outline(laid));
    document.set_metadata(metadata(paper, making.made_at));
    document
        .finish()
        .map_err(|cause| Error::internal(format!("the PDF could not be made: {cause:?}")))
}

fn metadata(paper: &Paper, made_at: NaiveDateTime) -> Metadata {
    let small = |number: u32| u8::try_from(number).unwrap_or_default();
    let made = DateTime::new(u16::try_from(made_at.year()).unwrap_or_default())
        .month(small(made_at.month()))
        .day(small(made_at.day()))
        .hour(small(made_at.hour()))
        .minute(small(made_at.minute()))
        .second(small(made_at.second()))
        .utc_offset_hour(0)
        .utc_offset_minute(0);
    let title = [paper.title.as_str(), paper.subject.as_str()];
    let title: Vec<&str> = title.into_iter().filter(|words| !words.is_empty()).collect();
    Metadata::new()
        .title(title.join(" · "))
        .creator("Anglestop".to_owned())
        .keywords(
            Some(paper.mark.clone())
                .filter(|mark| !mark.is_empty())
                .into_iter()
                .collect(),
        )
        .language("en".to_owned())
        .creation_date(made)
}

fn outline(laid: &Laid) -> Outline {
    let mut outline = Outline::new();
    for (words, page, y) in &laid.headings {
        let to = XyzDestination::new(*page, Point::from_xy(SIDE, *y));
        outline.push_child(OutlineNode::new(words.clone(), to));
    }
    outline
}

/// Draws the marks in their order; those of one piece that follow each other are marked as one.
fn draw_page(
    surface: &mut Surface<'_>,
    faces: &Faces,
    marks: &[Placed],
    marked: &mut Vec<(NodeId, Identifier)>,
) {
    for run in marks.chunk_by(|one, next| one.node == next.node) {
        let Some(first) = run.first() else { continue };
        let tag = match first.node {
            Some(_) if matches!(first.mark, Mark::Text { .. }) => ContentTag::Span(SpanTag::empty()),
            Some(_) => ContentTag::Other,
            None => ContentTag::Artifact(ArtifactType::Other),
        };
        let identifier = surface.start_tagged(tag);
        for placed in run {
            draw(surface, faces, &placed.mark);
        }
        surface.end_tagged();
        if let Some(node) = first.node {
            marked.push((node, identifier));
        }
    }
}

fn foot_of_page(surface: &mut Surface<'_>, faces: &Faces, paper: &Paper, (number, laid): (usize, &Laid)) {
    surface.start_tagged(ContentTag::Artifact(ArtifactType::Footer));
    let (width, height) = laid.sheet;
    let y = height - NUMBER;
    let count = Line {
        text: format!("Page {number} of {}", laid.pages.len()),
        style: SMALL,
    };
    let wide = faces.width(SMALL, &count.text);
    let room = width - 2.0 * SIDE - wide - 20.0;
    let named = format!("{} · {}", paper.title, paper.subject);
    let named = wrapped(faces, named.trim_end_matches(" · "), SMALL, room);
    if let Some(line) = named.into_iter().next() {
        text(surface, faces, (SIDE, y), &line);
    }
    text(surface, faces, (width - SIDE - wide, y), &count);
    surface.end_tagged();
}

fn fill(ink: Ink) -> Fill {
    Fill {
        paint: luma::Color::new(ink.lightness()).into(),
        ..Fill::default()
    }
}

fn text(surface: &mut Surface<'_>, faces: &Faces, (x, y): (f32, f32), line: &Line) {
    let face = faces.of(line.style.weight);
    surface.set_stroke(None);
    surface.set_fill(Some(fill(line.style.ink)));
    let glyphs = face.glyphs(&line.text);
    let at = Point::from_xy(x, y);
    surface.draw_glyphs(at, &glyphs, face.font.clone(), &line.text, line.style.size, false);
}

fn draw(surface: &mut Surface<'_>, faces: &Faces, mark: &Mark) {
    match mark {
        Mark::Text { x, y, line } => text(surface, faces, (*x, *y), line),
        Mark::Rule {
            x,
            y,
            width,
            thick,
            ink,
        } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*ink)));
            rectangle(surface, (*x, *y), (*width, *thick));
        }
        Mark::Frame { x, y, width, height } => {
            surface.set_fill(None);
            surface.set_stroke(Some(pen(Ink::Rule, 0.5)));
            rectangle(surface, (*x, *y), (*width, *height));
        }
        Mark::Photo {
            x,
            y,
            width,
            height,
            jpeg,
        } => photo(surface, (*x, *y), (*width, *height), jpeg),
        Mark::Drawn { x, y, scale, path } => signature(surface, (*x, *y), *scale, path),
    }
}

fn pen(ink: Ink, width: f32) -> Stroke {
    Stroke {
        paint: luma::Color::new(ink.lightness()).into(),
        width,
        line_cap: LineCap::Round,
        line_join: LineJoin::Round,
        opacity: NormalizedF32::ONE,
        ..Stroke::default()
    }
}

fn rectangle(surface: &mut Surface<'_>, (x, y): (f32, f32), (width, height): (f32, f32)) {
    let mut builder = PathBuilder::new();
    if let Some(rectangle) = Rect::from_xywh(x, y, width, height) {
        builder.push_rect(rectangle);
    }
    if let Some(path) = builder.finish() {
        surface.draw_path(&path);
    }
}

fn photo(surface: &mut Surface<'_>, (x, y): (f32, f32), (width, height): (f32, f32), jpeg: &[u8]) {
    let image = Image::from_jpeg(jpeg.to_vec().into(), false).ok();
    if let (Some(image), Some(size)) = (image, Size::from_wh(width, height)) {
        surface.push_transform(&Transform::from_translate(x, y));
        surface.draw_image(image, size);
        surface.pop();
    }
}

fn signature(surface: &mut Surface<'_>, (x, y): (f32, f32), scale: f32, path: &str) {
    let mut builder = PathBuilder::new();
    for stroke in strokes(path) {
        for (index, (right, down)) in stroke.iter().enumerate() {
            let (at, below) = (x + right * scale, y + down * scale);
            if index == 0 {
                builder.move_to(at, below);
            }
            // A point alone is a dot: a line of no length with round ends.
            if index > 0 || stroke.len() == 1 {
                builder.line_to(at, below);
            }
        }
    }
    surface.set_fill(None);
    surface.set_stroke(Some(pen(Ink::Dark, PEN * scale)));
    if let Some(path) = builder.finish() {
        surface.draw_path(&path);
    }
}
