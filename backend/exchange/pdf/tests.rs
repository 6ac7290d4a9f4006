//! The layout by itself: what is whole, what goes on, what is never empty.
#![expect(clippy::unwrap_used, reason = "a test that can't go on says where it stopped")]

use super::flow::{Flow, Laid, Mark};
use super::font::Faces;
use super::style::{BOTTOM, SIDE, TEXT, TOP};
use super::text::wrapped;
use super::{Making, Sheet, block, pdf};
use crate::exchange::paper::{Paper, Photo, Row, Section, Signature, Weight};

fn laid(paper: &Paper, sheet: Sheet) -> Laid {
    let mut flow = Flow::new(Faces::ours().unwrap(), sheet);
    block::paper(&mut flow, paper);
    flow.finish()
}

fn of_rows(rows: Vec<Row>) -> Paper {
    Paper {
        title: "Record".to_owned(),
        sections: vec![Section {
            heading: "Kitchen".to_owned(),
            columns: ["Check", "Seen", "When"],
            rows,
            ..Section::default()
        }],
        ..Paper::default()
    }
}

fn row(head: &str, lines: usize) -> Row {
    Row {
        head: head.to_owned(),
        middle: (0..lines).map(|line| format!("{head} line {line}.")).collect(),
        ..Row::default()
    }
}

/// The texts of a page, each with where it stands.
fn texts(laid: &Laid, page: usize) -> Vec<(String, f32, f32)> {
    let texts = laid.pages[page].iter().filter_map(|placed| match &placed.mark {
        Mark::Text { x, y, line } => Some((line.text.trim_end().to_owned(), *x, *y)),
        _ => None,
    });
    texts.collect()
}

#[test]
fn a_row_stands_whole_on_one_page_and_the_heads_stand_again() {
    for sheet in [Sheet::Letter, Sheet::A4] {
        let rows: Vec<Row> = (0..60)
            .map(|number| row(&format!("R{number}"), 1 + number % 7))
            .collect();
        let laid = laid(&of_rows(rows), sheet);
        assert!(laid.pages.len() > 2);
        for number in 0..60_usize {
            let begin = format!("R{number} line ");
            let pages: Vec<usize> = (0..laid.pages.len())
                .filter(|page| {
                    texts(&laid, *page)
                        .iter()
                        .any(|(text, ..)| text.starts_with(&begin))
                })
                .collect();
            assert_eq!(pages.len(), 1, "R{number} on {pages:?}");
            let lines = texts(&laid, pages[0]);
            assert_eq!(
                lines.iter().filter(|(text, ..)| text.starts_with(&begin)).count(),
                1 + number % 7
            );
            assert_eq!(
                lines
                    .iter()
                    .filter(|(text, ..)| *text == format!("R{number}"))
                    .count(),
                1
            );
        }
        for page in 1..laid.pages.len() {
            let lines = texts(&laid, page);
            assert_eq!(lines[0].0, "Kitchen, continued");
            assert_eq!(lines[1].0, "Check");
        }
    }
}

#[test]
fn nothing_is_printed_below_the_margin_or_beside_it() {
    for sheet in [Sheet::Letter, Sheet::A4] {
        let long = "Wassereinlaufventil-".repeat(40);
        let mut rows: Vec<Row> = (0..30).map(|number| row(&format!("R{number}"), 3)).collect();
        rows.push(row(&long, 3));
        rows.push(row("High", 200));
        let laid = laid(&of_rows(rows), sheet);
        let (width, height) = sheet.points();
        let faces = Faces::ours().unwrap();
        for placed in laid.pages.iter().flatten() {
            let (right, below) = match &placed.mark {
                Mark::Text { x, y, line } => (x + faces.width(line.style, line.text.trim_end()), *y),
                Mark::Rule { x, y, width, .. } => (x + width, *y),
                other => panic!("{other:?}"),
            };
            assert!(right <= width - SIDE + 0.1, "{right} of {width}: {placed:?}");
            assert!(below <= height - BOTTOM + 4.0 && below >= TOP - 1.0, "{placed:?}");
        }
    }
}

#[test]
fn a_row_that_is_higher_than_a_page_goes_on_and_loses_no_line() {
    let laid = laid(
        &of_rows(vec![row("Before", 1), row("High", 400), row("After", 1)]),
        Sheet::A4,
    );
    let all: Vec<String> = (0..laid.pages.len())
        .flat_map(|page| texts(&laid, page))
        .map(|(text, ..)| text)
        .collect();
    for line in 0..400 {
        let wanted = format!("High line {line}.");
        assert_eq!(all.iter().filter(|text| **text == wanted).count(), 1, "{wanted}");
    }
    assert!(all.iter().any(|text| text == "After line 0."));
}

#[test]
fn an_empty_section_has_its_heading_alone_and_an_empty_paper_has_a_page() {
    let mut paper = of_rows(Vec::new());
    let one = laid(&paper, Sheet::Letter);
    let words: Vec<String> = texts(&one, 0).into_iter().map(|(text, ..)| text).collect();
    assert_eq!(words, ["Record", "Kitchen"]);
    paper.sections.clear();
    let making = Making {
        sheet: Sheet::Letter,
        made_at: "2026-02-10T18:00:00".parse().unwrap(),
    };
    assert_eq!(pdf(&paper, making).unwrap().1, 1);
}

#[test]
fn a_heading_is_never_the_last_line_of_a_page() {
    for rows in 20..60 {
        let mut paper = of_rows((0..rows).map(|number| row(&format!("R{number}"), 1)).collect());
        let mut next = paper.sections[0].clone();
        next.heading = "Bath".to_owned();
        paper.sections.push(next);
        let laid = laid(&paper, Sheet::A4);
        let page = (0..laid.pages.len())
            .find(|page| texts(&laid, *page).iter().any(|(text, ..)| text == "Bath"))
            .unwrap();
        let lines = texts(&laid, page);
        let at = lines.iter().position(|(text, ..)| text == "Bath").unwrap();
        assert_eq!(lines[at + 4].0, "R0", "{rows} rows");
    }
}

#[test]
fn lines_are_as_wide_as_they_may_be_and_no_word_is_lost() {
    let faces = Faces::ours().unwrap();
    let text = "Zählerstände überprüft, Łódź, Ελλάδα, Việt Nam: 1/16 in ≤ 2 mm, then again and again until the line is full.";
    let lines = wrapped(faces, text, TEXT, 120.0);
    assert!(lines.len() > 2);
    for line in &lines {
        assert!(faces.width(TEXT, line.text.trim_end()) <= 120.0);
    }
    let joined: String = lines.iter().map(|line| line.text.as_str()).collect();
    assert_eq!(joined, text);
    assert!(wrapped(faces, " \n ", TEXT, 120.0).is_empty());
    assert_eq!(
        wrapped(faces, "a\u{7}b", TEXT, 120.0)[0].text,
        "a b",
        "no control character reaches the file"
    );
}

#[test]
fn figures_are_of_one_width_so_that_columns_of_them_stand_straight() {
    let faces = Faces::ours().unwrap();
    let wide = faces.width(TEXT, "0");
    for figure in "123456789".chars() {
        assert!((faces.width(TEXT, &figure.to_string()) - wide).abs() < 0.001);
    }
}

#[test]
fn a_character_that_cannot_be_drawn_is_said_at_the_end_and_the_file_is_made_all_the_same() {
    let mut paper = of_rows(vec![row("漢字 and مرحبا", 1)]);
    paper.foot = vec!["Small print.".to_owned()];
    let one = laid(&paper, Sheet::A4);
    assert!(
        texts(&one, 0)
            .iter()
            .any(|(text, ..)| text.starts_with("A box stands for a character"))
    );
    let plain = laid(&of_rows(vec![row("Łódź", 1)]), Sheet::A4);
    assert!(
        !texts(&plain, 0)
            .iter()
            .any(|(text, ..)| text.starts_with("A box"))
    );
    let making = Making {
        sheet: Sheet::A4,
        made_at: "2026-02-10T18:00:00".parse().unwrap(),
    };
    let (first, _) = pdf(&paper, making).unwrap();
    assert_eq!(
        first,
        pdf(&paper, making).unwrap().0,
        "the same value gives the same bytes"
    );
}

#[test]
fn a_photo_that_is_no_picture_and_one_that_is_to_come_keep_their_frames_and_captions() {
    let photo = |jpeg: Option<Vec<u8>>, caption: &str| Photo {
        caption: caption.to_owned(),
        under: vec!["SHA-256 00".to_owned()],
        jpeg,
        instead: "Still to come".to_owned(),
        ..Photo::default()
    };
    let mut paper = of_rows(Vec::new());
    paper.sections[0].photos = vec![photo(None, "One"), photo(Some(b"no picture".to_vec()), "Two")];
    paper.signatures = vec![Signature {
        name: "Rosa Vance".to_owned(),
        drawn: "M0 0L1000 300M500 150".to_owned(),
        beneath: "Signed".to_owned(),
    }];
    let one = laid(&paper, Sheet::Letter);
    let words: Vec<String> = texts(&one, 0).into_iter().map(|(text, ..)| text).collect();
    for wanted in [
        "One",
        "Two",
        "Still to come",
        "This picture can't be shown.",
        "Rosa Vance",
        "Signed",
    ] {
        assert_eq!(
            words.iter().filter(|text| *text == wanted).count(),
            1,
            "{wanted} in {words:?}"
        );
    }
    let frames = one.pages[0]
        .iter()
        .filter(|placed| matches!(placed.mark, Mark::Frame { .. }));
    assert_eq!(frames.count(), 2);
    let drawn = one.pages[0]
        .iter()
        .filter(|placed| matches!(placed.mark, Mark::Drawn { .. }));
    assert_eq!(drawn.count(), 1);
}

#[test]
fn what_is_wrong_is_marked_by_weight_and_a_line_and_not_by_a_colour() {
    let mut bad = row("R", 1);
    bad.weight = Weight::Grave;
    let rules = |paper: &Paper| {
        let laid = laid(paper, Sheet::A4);
        laid.pages[0]
            .iter()
            .filter(|placed| matches!(placed.mark, Mark::Rule { .. }))
            .count()
    };
    assert_eq!(rules(&of_rows(vec![bad])), rules(&of_rows(vec![row("R", 1)])) + 1);
}
