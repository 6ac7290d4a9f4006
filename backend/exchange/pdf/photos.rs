//! Photos in a grid of three with their captions. A photo stays with its caption; one that is still to come has its frame.

use krilla::image::Image;

use super::flow::{Flow, Mark};
use super::style::{GAP, SIDE, SMALL, TEXT};
use super::tags::{Kind, NodeId};
use super::text::{Line, height, wrapped};
use crate::exchange::paper::{Photo, Section};

/// Beside each other.
const COLUMNS: u8 = 3;
/// Height of a frame, of its width.
const HEIGHT: f32 = 0.75;

fn width(flow: &Flow<'_>) -> f32 {
    let columns = f32::from(COLUMNS);
    (flow.width() - GAP * (columns - 1.0)) / columns
}

fn caption(flow: &Flow<'_>, photo: &Photo) -> Vec<Line> {
    let width = width(flow);
    let mut lines = wrapped(flow.faces, &photo.caption, TEXT, width);
    let under = photo.under.iter();
    lines.extend(under.flat_map(|text| wrapped(flow.faces, text, SMALL, width)));
    lines
}

fn high(flow: &Flow<'_>, row: &[Photo]) -> f32 {
    let captions = row.iter().map(|photo| height(&caption(flow, photo)));
    width(flow) * HEIGHT + 4.0 + captions.fold(0.0, f32::max)
}

/// Height of the first row, which stays with the heading before it.
pub(super) fn first_height(flow: &Flow<'_>, section: &Section) -> f32 {
    let first = section.photos.chunks(usize::from(COLUMNS)).next();
    first.map_or(0.0, |row| high(flow, row))
}

/// Lays the photos.
pub(super) fn photos(flow: &mut Flow<'_>, within: NodeId, photos: &[Photo]) {
    for row in photos.chunks(usize::from(COLUMNS)) {
        flow.space(4.0);
        let high = high(flow, row);
        flow.keep_together(high);
        let wide = width(flow);
        let mut x = SIDE;
        for photo in row {
            one(flow, within, photo, x);
            x += wide + GAP;
        }
        flow.down(high + 6.0);
    }
}

fn one(flow: &mut Flow<'_>, within: NodeId, photo: &Photo, x: f32) {
    let (y, width) = (flow.y(), width(flow));
    let height = width * HEIGHT;
    let lines = caption(flow, photo);
    match photo.jpeg.as_ref().and_then(|jpeg| Some((jpeg, size(jpeg)?))) {
        Some((jpeg, (wide, high))) => {
            let figure = flow.nodes.add(within, Kind::Figure(photo.caption.clone()));
            let scale = (width / wide).min(height / high);
            let (wide, high) = (wide * scale, high * scale);
            flow.put(
                Some(figure),
                Mark::Photo {
                    x,
                    y: y + (height - high),
                    width: wide,
                    height: high,
                    jpeg: jpeg.clone(),
                },
            );
        }
        None => {
            flow.put(None, Mark::Frame { x, y, width, height });
            let node = flow.nodes.add(within, Kind::Paragraph);
            let words = if photo.jpeg.is_some() {
                "This picture can't be shown."
            } else {
                &photo.instead
            };
            let lines = wrapped(flow.faces, words, SMALL, width - 12.0);
            flow.lines(Some(node), (x + 6.0, y + 6.0), &lines);
        }
    }
    let node = flow.nodes.add(within, Kind::Caption);
    flow.lines(Some(node), (x, y + height + 4.0), &lines);
}

/// Width and height of a JPEG in pixels; none when it is none.
fn size(jpeg: &[u8]) -> Option<(f32, f32)> {
    let (wide, high) = Image::from_jpeg(jpeg.to_vec().into(), false).ok()?.size();
    let side = |pixels: u32| u16::try_from(pixels).ok().filter(|side| *side > 0).map(f32::from);
    Some((side(wide)?, side(high)?))
}
