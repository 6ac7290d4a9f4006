//! The parts of a paper from above to below: title, facts, sections, signatures, small print.

use super::drawing;
use super::flow::Flow;
use super::photos;
use super::style::{HEADING, Ink, LABEL, LABELS, SIDE, SMALL, SUBJECT, TEXT, TITLE};
use super::table;
use super::tags::{Kind, NodeId, Nodes};
use super::text::{height, wrapped};
use crate::exchange::paper::{Paper, Section};

/// Said once at the end when it is so.
const NOT_DRAWN: &str = "A box stands for a character that this file can't draw. It is in the text of the file and on the page form of this paper.";

/// Lays a paper.
pub(super) fn paper(flow: &mut Flow<'_>, paper: &Paper) {
    flow.heading(Nodes::ROOT, 1, &paper.title, TITLE);
    flow.paragraph(Nodes::ROOT, &paper.subject, SUBJECT);
    flow.space(10.0);
    facts(flow, &paper.facts);
    for part in &paper.sections {
        section(flow, part);
    }
    for signature in &paper.signatures {
        drawing::signature(flow, signature);
    }
    foot(flow, paper);
}

/// Labels on the left, values beside them: a table without heads, read row by row.
fn facts(flow: &mut Flow<'_>, facts: &[(String, String)]) {
    if facts.is_empty() {
        return;
    }
    let table = flow.nodes.add(Nodes::ROOT, Kind::Table);
    let width = flow.width() - LABELS;
    for (label, value) in facts {
        let labels = wrapped(flow.faces, label, LABEL, LABELS - 6.0);
        let values = wrapped(flow.faces, value, TEXT, width);
        let row = flow.nodes.add(table, Kind::Row);
        let head = flow.nodes.add(row, Kind::RowHead);
        let cell = flow.nodes.add(row, Kind::Cell);
        let high = height(&labels).max(height(&values));
        flow.keep_together(high);
        flow.lines(Some(head), (SIDE, flow.y()), &labels);
        let mut rest = values.as_slice();
        // A value of more than a page goes on; every other one stands whole.
        while !rest.is_empty() {
            let fits = super::table::fitting(rest, flow.room());
            let (now, later) = rest.split_at(fits.max(1).min(rest.len()));
            flow.lines(Some(cell), (SIDE + LABELS, flow.y()), now);
            flow.down(height(now));
            rest = later;
            if !rest.is_empty() {
                flow.new_page();
            }
        }
        flow.down((high - height(&values)).max(0.0));
    }
}

fn section(flow: &mut Flow<'_>, section: &Section) {
    let group = flow.nodes.add(Nodes::ROOT, Kind::Group);
    flow.space(15.0);
    let high = |line: &String| height(&wrapped(flow.faces, line, TEXT, flow.width())) + 2.5;
    let first = match section.lead.first() {
        Some(lead) if section.rows.is_empty() && section.photos.is_empty() => high(lead),
        _ => {
            let leads: f32 = section.lead.iter().map(high).sum();
            let next = if section.rows.is_empty() {
                photos::first_height(flow, section)
            } else {
                table::first_height(flow, section)
            };
            leads + next
        }
    };
    flow.keep_together(HEADING.leading + 3.0 + first);
    flow.heading(group, 2, &section.heading, HEADING);
    flow.down(3.0);
    for line in &section.lead {
        flow.paragraph(group, line, TEXT);
        flow.space(2.5);
    }
    table::table(flow, group, section);
    photos::photos(flow, group, &section.photos);
}

fn foot(flow: &mut Flow<'_>, paper: &Paper) {
    let says_not_drawn =
        words(paper).any(|text| text.chars().any(|c| !c.is_control() && !flow.faces.draws(c)));
    let missing = says_not_drawn.then_some(NOT_DRAWN);
    let lines: Vec<&str> = paper.foot.iter().map(String::as_str).chain(missing).collect();
    if lines.is_empty() {
        return;
    }
    flow.space(20.0);
    let high = |line: &&str| height(&wrapped(flow.faces, line, SMALL, flow.width())) + 1.5;
    flow.keep_together(lines.iter().map(high).sum::<f32>() + 5.0);
    flow.rule((SIDE, flow.y()), flow.width(), 0.5, Ink::Rule);
    flow.down(5.0);
    let group: NodeId = flow.nodes.add(Nodes::ROOT, Kind::Group);
    for line in lines {
        flow.paragraph(group, line, SMALL);
        flow.space(1.5);
    }
}

/// Every text of a paper.
fn words(paper: &Paper) -> impl Iterator<Item = &str> {
    let facts = paper.facts.iter().flat_map(|(label, value)| [label, value]);
    let sections = paper.sections.iter().flat_map(|section| {
        let rows = section.rows.iter().flat_map(|row| {
            let cells = row.middle.iter().chain(&row.last);
            [&row.head, &row.under].into_iter().chain(cells)
        });
        let photos = section
            .photos
            .iter()
            .flat_map(|photo| std::iter::once(&photo.caption).chain(&photo.under));
        std::iter::once(&section.heading)
            .chain(&section.lead)
            .chain(rows)
            .chain(photos)
    });
    let signed = paper.signatures.iter().flat_map(|one| [&one.name, &one.beneath]);
    [&paper.title, &paper.subject]
        .into_iter()
        .chain(facts)
        .chain(sections)
        .chain(signed)
        .chain(&paper.foot)
        .map(String::as_str)
}
