//! What the PDF says, read by pdftotext.

use anglestop::domain::turnover::Item;
use anglestop::exchange::paper::style_of;
use anglestop::store::document_forms::Form;
use scraper::{Html, Selector};

use super::{NOTE, SIGNED, closed, count, form, page, pages, poppler, spaced};
use crate::support::on_both;
use crate::turnovers::stage::MOVE_IN;

/// Name, part of the walk and stage of an item, as its row begins.
fn row_begin(name: &str, item: &Item) -> String {
    use anglestop::domain::trade::TurnoverStage;
    let stage = match item.key.stage {
        TurnoverStage::Found => "as found",
        TurnoverStage::Ready => "before ready",
        TurnoverStage::MoveIn => "move-in day",
    };
    format!("{name} {} · {stage}", item.check.group.name())
}

/// The rows of the page form, each as one line.
fn rows_of_page(html: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    let (rows, cells) = (
        Selector::parse("tbody tr").unwrap(),
        Selector::parse("th, td").unwrap(),
    );
    let row = |row: scraper::ElementRef<'_>| {
        let texts: Vec<&str> = row.select(&cells).flat_map(|cell| cell.text()).collect();
        spaced(&texts.join(" "))
    };
    page.select(&rows).map(row).collect()
}

#[test]
fn each_item_of_the_checklist_stands_in_the_pdf_once_with_its_answer_and_whole_on_one_page() {
    on_both(|fleet| {
        let (flat, id) = closed(&fleet.db);
        let pages = pages(&form(&fleet.db, id, Form::Pdf));
        let all = pages.join(" ");
        let list = flat.survey(id, MOVE_IN).list;
        let mut beginnings = 0;
        for item in &list.items {
            let begin = spaced(&row_begin(&list.name(item), item));
            assert_eq!(count(&all, &begin), 1, "{begin} in {all}");
            beginnings += 1;
        }
        let stages = [" · as found", " · before ready", " · move-in day"];
        let rows: usize = stages.iter().map(|stage| count(&all, stage)).sum();
        assert_eq!(rows, list.items.len(), "as many rows as the checklist has items");
        assert_eq!(beginnings, list.items.len());
        assert!(
            list.items.len() >= 40,
            "{} items are few to tell anything",
            list.items.len()
        );
        // Its name, its answers, who and when are one piece on one page: the same words as in the row of the page form.
        for row in rows_of_page(&page(&fleet.db, id)) {
            let on: Vec<usize> = pages
                .iter()
                .map(|page| count(page, &row))
                .filter(|count| *count > 0)
                .collect();
            assert_eq!(on, [1], "{row} in {pages:#?}");
        }
    });
}

#[test]
fn cautions_signature_page_numbers_and_the_sum_of_the_list_are_in_the_text() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        let pdf = form(&fleet.db, id, Form::Pdf);
        let pages = pages(&pdf);
        for (index, text) in pages.iter().enumerate() {
            let number = format!("Page {} of {}", index + 1, pages.len());
            assert_eq!(count(text, &number), 1, "{number} in {text}");
            assert_eq!(count(text, "Page "), 1);
        }
        let all = pages.join(" ");
        let html = Html::parse_document(&page(&fleet.db, id));
        let paragraphs = Selector::parse("main > p, .foot p").unwrap();
        let mut said = 0;
        for paragraph in html.select(&paragraphs) {
            let words = spaced(&paragraph.text().collect::<String>());
            // The subject stands at the foot of each page too; a sum is broken over lines.
            if words.contains("SHA-256 is") || words.starts_with("Alder House") {
                continue;
            }
            assert!(all.contains(&words), "{words} is not in {all}");
            said += 1;
        }
        assert!(said >= 5, "cautions and small print");
        assert!(
            all.contains("Smell gas? Leave now") && all.contains("Local codes and licensed practice decide.")
        );
        assert!(
            all.contains(&format!("{SIGNED} Signed Tue 10 Feb 2026, 12:00")),
            "{all}"
        );
        assert!(all.contains(NOTE), "{all}");
        let manifest = anglestop::store::documents::sha256_of(&form(&fleet.db, id, Form::Manifest));
        assert!(all.replace(' ', "").contains(&manifest), "{manifest}");
        assert!(page(&fleet.db, id).contains(&manifest));
    });
}

/// What a screen reader and an archive need, as far as pdfinfo and pdffonts tell it.
#[test]
fn the_file_is_tagged_titled_and_has_its_fonts_in_it() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        let pdf = form(&fleet.db, id, Form::Pdf);
        let info = poppler("pdfinfo", &["-isodates"], &pdf);
        let said = |label: &str| {
            let line = info.lines().find(|line| line.starts_with(label));
            line.unwrap_or_else(|| panic!("{label} in {info}"))[label.len()..]
                .trim()
                .to_owned()
        };
        assert_eq!(
            said("Title:"),
            "Turnover record 1 · Alder House (ALDER), unit 204"
        );
        assert_eq!(said("Tagged:"), "yes");
        let claims = b"<pdfuaid:part>1</pdfuaid:part>";
        assert!(
            pdf.windows(claims.len()).any(|window| window == claims),
            "PDF/UA-1"
        );
        assert!(said("CreationDate:").starts_with("2026-02-10T18:00:00"), "{info}");
        assert_eq!(said("JavaScript:"), "no");
        let fonts = poppler("pdffonts", &[], &pdf);
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert_eq!(rows.len(), 2, "{fonts}");
        for row in rows {
            assert!(
                row.contains("DejaVuSans") && row.contains(" yes yes yes "),
                "embedded, cut down, with its text: {row}"
            );
        }
        let tags = poppler("pdfinfo", &["-struct"], &pdf);
        for tag in ["H1", "H2", "Table", "TR", "TH", "TD", "Figure", "P"] {
            assert!(
                tags.lines()
                    .any(|line| line.trim().split([' ', ':']).next() == Some(tag)),
                "{tag} in {tags}"
            );
        }
    });
}

#[test]
fn the_same_turnover_gives_the_same_bytes_and_the_page_needs_nothing_else() {
    let files: Vec<(Vec<u8>, String)> = (0..2)
        .map(|_| {
            let fleet = crate::support::sqlite();
            let (_, id) = closed(&fleet.db);
            (form(&fleet.db, id, Form::CopyPdf), page(&fleet.db, id))
        })
        .collect();
    // The list names the random ids of the answers, so its sum differs; nothing else does.
    let without = |html: &str| {
        let marks: Vec<&str> = html.split("anglestop-record-").collect();
        marks
            .iter()
            .map(|part| part.get(64..).unwrap_or(part))
            .collect::<String>()
            .len()
    };
    assert_eq!(without(&files[0].1), without(&files[1].1));
    let html = &files[0].1;
    assert!(style_of(html.as_bytes()).is_some());
    assert!(!html.contains("src=") && !html.contains("<script") && !html.contains(" style="));
    assert!(
        html.contains("<svg viewBox=\"0 0 1000 300\""),
        "the drawn signature"
    );
}
