//! Signatures: what was drawn, the name that was typed, a line beneath, and who and when.

use super::flow::{Flow, Mark};
use super::style::{Ink, NAME, SIDE, SMALL};
use super::tags::{Kind, Nodes};
use super::text::{height, wrapped};
use crate::exchange::paper::{DRAWN_HEIGHT, DRAWN_WIDTH, Signature, strokes};

/// Width of the line to sign on.
const WIDTH: f32 = 260.0;
/// Room above it where somebody is to sign by hand.
const BY_HAND: f32 = 34.0;

/// Lays a signature in one piece.
pub(super) fn signature(flow: &mut Flow<'_>, signature: &Signature) {
    let names = wrapped(flow.faces, &signature.name, NAME, WIDTH);
    let beneath = wrapped(flow.faces, &signature.beneath, SMALL, flow.width());
    let drawn = !strokes(&signature.drawn).is_empty();
    let scale = WIDTH * 0.8 / DRAWN_WIDTH;
    let above = if drawn {
        DRAWN_HEIGHT * scale + height(&names)
    } else if names.is_empty() {
        BY_HAND
    } else {
        height(&names)
    };
    flow.space(22.0);
    flow.keep_together(above + 6.0 + height(&beneath));
    if drawn {
        let alt = format!("Signature of {}", signature.name);
        let node = flow.nodes.add(Nodes::ROOT, Kind::Figure(alt));
        let y = flow.y();
        flow.put(
            Some(node),
            Mark::Drawn {
                x: SIDE,
                y,
                scale,
                path: signature.drawn.clone(),
            },
        );
    }
    let node = flow.nodes.add(Nodes::ROOT, Kind::Paragraph);
    let y = flow.y();
    flow.lines(Some(node), (SIDE, y + above - height(&names)), &names);
    flow.rule((SIDE, y + above + 2.0), WIDTH, 0.7, Ink::Dark);
    flow.lines(Some(node), (SIDE, y + above + 5.0), &beneath);
    flow.down(above + 6.0 + height(&beneath));
}
