//! Tables of three columns. No row is split between pages but one that is higher than a page; the heads of the columns stand again on
//! each page, and with them which section goes on.

use super::flow::Flow;
use super::style::{COLUMNS, GAP, GRAVE, Ink, ROW, SIDE, SMALL, TEXT};
use super::tags::{Kind, NodeId};
use super::text::{Line, height, wrapped};
use crate::exchange::paper::{Row, Section, Weight};

/// The lines of each cell of a row.
type Cells = [Vec<Line>; 3];

/// How many lines fit into a height.
pub(super) fn fitting(lines: &[Line], room: f32) -> usize {
    let mut used = 0.0;
    lines
        .iter()
        .take_while(|line| {
            used += line.style.leading;
            used <= room + 0.01
        })
        .count()
}

fn widths(flow: &Flow<'_>) -> [f32; 3] {
    COLUMNS.map(|share| flow.width() * share - GAP)
}

fn lefts(flow: &Flow<'_>) -> [f32; 3] {
    let [first, second, _] = COLUMNS.map(|share| flow.width() * share);
    [SIDE, SIDE + first, SIDE + first + second]
}

fn cells(flow: &Flow<'_>, row: &Row) -> Cells {
    let [head, middle, last] = widths(flow);
    let is_grave = row.weight == Weight::Grave;
    let first = if is_grave { GRAVE } else { TEXT };
    let mut heads = wrapped(flow.faces, &row.head, TEXT, head);
    heads.extend(wrapped(flow.faces, &row.under, SMALL, head));
    let column = |texts: &[String], first, width| {
        let styles = std::iter::once(first).chain(std::iter::repeat(SMALL));
        let pairs = texts.iter().zip(styles);
        pairs
            .flat_map(|(text, style)| wrapped(flow.faces, text, style, width))
            .collect()
    };
    [
        heads,
        column(&row.middle, first, middle),
        column(&row.last, TEXT, last),
    ]
}

fn high(cells: &Cells) -> f32 {
    cells.iter().map(|lines| height(lines)).fold(0.0, f32::max) + 2.0 * ROW
}

fn head_cells(flow: &Flow<'_>, section: &Section) -> Cells {
    let mut widths = widths(flow).into_iter();
    section
        .columns
        .map(|head| wrapped(flow.faces, head, SMALL, widths.next().unwrap_or_default()))
}

/// Height of the heads with the first row, which stay with the heading before them.
pub(super) fn first_height(flow: &Flow<'_>, section: &Section) -> f32 {
    let first = section.rows.first().map_or(0.0, |row| high(&cells(flow, row)));
    high(&head_cells(flow, section)) + first
}

/// Lays the table of a section; nothing when it has no rows.
pub(super) fn table(flow: &mut Flow<'_>, within: NodeId, section: &Section) {
    if section.rows.is_empty() {
        return;
    }
    let table = flow.nodes.add(within, Kind::Table);
    let heads = head_cells(flow, section);
    let first = section.rows.first().map_or(0.0, |row| high(&cells(flow, row)));
    flow.keep_together(high(&heads) + first);
    let head = flow.nodes.add(table, Kind::Head);
    let row = flow.nodes.add(head, Kind::Row);
    let nodes = [(); 3].map(|()| Some(flow.nodes.add(row, Kind::ColumnHead)));
    lay_head(flow, &heads, nodes);
    let body = flow.nodes.add(table, Kind::Body);
    for one in &section.rows {
        let row = flow.nodes.add(body, Kind::Row);
        let nodes = [Kind::RowHead, Kind::Cell, Kind::Cell].map(|kind| Some(flow.nodes.add(row, kind)));
        lay_row(flow, section, &heads, cells(flow, one), nodes);
    }
}

/// The heads; again on a further page they are no part of the text.
fn lay_head(flow: &mut Flow<'_>, heads: &Cells, nodes: [Option<NodeId>; 3]) {
    let lefts = lefts(flow);
    for ((lines, node), x) in heads.iter().zip(nodes).zip(lefts) {
        flow.lines(node, (x, flow.y() + ROW), lines);
    }
    flow.down(high(heads));
    flow.rule((SIDE, flow.y()), flow.width(), 0.9, Ink::Dark);
}

fn go_on(flow: &mut Flow<'_>, section: &Section, heads: &Cells) {
    flow.new_page();
    let words = format!("{}, continued", section.heading);
    let lines = wrapped(flow.faces, &words, SMALL, flow.width());
    flow.lines(None, (SIDE, flow.y()), &lines);
    flow.down(height(&lines));
    lay_head(flow, heads, [None; 3]);
}

fn lay_row(
    flow: &mut Flow<'_>,
    section: &Section,
    heads: &Cells,
    mut rest: Cells,
    nodes: [Option<NodeId>; 3],
) {
    let lefts = lefts(flow);
    if high(&rest) > flow.room() {
        go_on(flow, section, heads);
    }
    loop {
        let room = flow.room() - 2.0 * ROW;
        // At least a line a turn, so that it ends on any sheet.
        let mut now: Cells = Default::default();
        for (lines, taken) in rest.iter_mut().zip(&mut now) {
            let count = fitting(lines, room).max(1).min(lines.len());
            *taken = lines.drain(..count).collect();
        }
        for ((lines, node), x) in now.iter().zip(nodes).zip(lefts) {
            flow.lines(node, (x, flow.y() + ROW), lines);
        }
        flow.down(high(&now));
        flow.rule((SIDE, flow.y()), flow.width(), 0.4, Ink::Rule);
        if rest.iter().all(Vec::is_empty) {
            return;
        }
        go_on(flow, section, heads);
    }
}
