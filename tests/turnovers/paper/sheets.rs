//! Letter and A4, by pdfinfo and the boxes of words by pdftotext -bbox.

use anglestop::store::document_forms::Form;

use super::{closed, form, poppler, sql};
use crate::support::on_both;
use crate::turnovers::stage::{MOVE_IN, flat};

/// US Letter is 8.5 by 11 in (ANSI/ASME Y14.1); A4 is 210 by 297 mm (ISO 216). In points of 1/72 in.
const LETTER: (f64, f64) = (612.0, 792.0);
const A4: (f64, f64) = (595.28, 841.89);
/// What a printer may leave blank at each edge of a sheet, points. Common practice, no source.
const BLANK: f64 = 12.0;

fn attribute(line: &str, name: &str) -> f64 {
    let begin = line.find(&format!("{name}=\"")).unwrap() + name.len() + 2;
    line[begin..].split('"').next().unwrap().parse().unwrap()
}

/// Each word is on both sheets when the file is printed at its own size in the middle of the other one.
fn prints_on_both(pdf: &[u8], (width, height): (f64, f64)) {
    let words = poppler("pdftotext", &["-bbox"], pdf);
    let mut seen = 0;
    for line in words
        .lines()
        .filter(|line| line.trim_start().starts_with("<word"))
    {
        for (sheet_width, sheet_height) in [LETTER, A4] {
            let (left, top) = (
                (width - sheet_width) / 2.0 + BLANK,
                (height - sheet_height) / 2.0 + BLANK,
            );
            assert!(
                attribute(line, "xMin") >= left && attribute(line, "xMax") <= width - left,
                "{line}"
            );
            assert!(
                attribute(line, "yMin") >= top && attribute(line, "yMax") <= height - top,
                "{line}"
            );
        }
        seen += 1;
    }
    assert!(seen > 500, "{seen} words");
}

#[test]
fn a_building_in_inches_gets_letter_and_one_in_millimetres_a4_and_each_prints_on_both() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        for of in [Form::Pdf, Form::CopyPdf] {
            let pdf = form(&fleet.db, id, of);
            let info = poppler("pdfinfo", &[], &pdf);
            assert!(info.contains("612 x 792 pts (letter)"), "{info}");
            prints_on_both(&pdf, LETTER);
        }
    });
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        sql(&fleet.db, "UPDATE buildings SET length_unit = 'mm'");
        let id = flat.ready();
        flat.pass(id, MOVE_IN, anglestop::domain::trade::TurnoverStage::MoveIn);
        flat.close(id, MOVE_IN).unwrap();
        for of in [Form::Pdf, Form::CopyPdf] {
            let pdf = form(&fleet.db, id, of);
            let info = poppler("pdfinfo", &[], &pdf);
            assert!(info.contains("(A4)"), "{info}");
            prints_on_both(&pdf, A4);
        }
    });
}
