//! The record as PDF and the household's copy, read by programs that are not ours: pdftotext, pdfinfo, pdffonts and pdfimages of
//! Poppler (Debian package poppler-utils).

mod copy;
pub mod photos;
mod sheets;
mod text;

use std::process::Command;

use anglestop::domain::register::TurnoverId;
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::TurnoverStage;
use anglestop::store::document_forms::{self, Form};
use anglestop::store::{Db, documents};
use diesel::RunQueryDsl as _;
use serde_json::json;

use super::stage::{Flat, MOVE_IN, OPENED, flat};
use crate::phone::stage::{Site, op, states};
use crate::results::stage::of;
use crate::support::server::Server;

/// Names outside of Latin-1, in the note of an answer and beneath the record.
const SIGNED: &str = "Łukasz Żółć-Ńguyễn";
const NOTE: &str = "Ελένη Παπαδοπούλου και Олег Щербаков, Nguyễn Thị Ánh: “überprüft”";

/// A turnover that saw a failure which was left, things that could not be checked and everything else passed; closed.
pub fn closed(db: &Db) -> (Flat, TurnoverId) {
    let flat = flat(db);
    let id = flat.opened();
    let mut loose = of(flat.closet, "wc_seat", Outcome::Fail);
    loose.note = NOTE.to_owned();
    flat.record(id, OPENED, vec![(loose, Some(TurnoverStage::Found))])
        .unwrap();
    flat.answer_with(id, OPENED, TurnoverStage::Found, |item| {
        if item.check.code.as_str() == "sink_firm" {
            Outcome::NotChecked
        } else {
            Outcome::Pass
        }
    });
    sql(
        db,
        "UPDATE deficiencies SET status = 'repaired', repaired_at = '2026-02-04 12:00:00'",
    );
    flat.step(id, "2026-02-05").unwrap();
    flat.pass(id, "2026-02-05", TurnoverStage::Ready);
    flat.step(id, "2026-02-05").unwrap();
    flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
    let site = Site {
        server: Server::start(db, "2026-02-10T18:00:00"),
        turnover: id,
        flat,
    };
    let drawn = "M40 220L160 60L240 240M300 180L420 120L520 200L700 90";
    let close = json!({"turnover": id.0, "name": SIGNED, "signature": drawn});
    let told = site
        .phone()
        .send(&site, &[op("close", "2026-02-10T18:00:00.000Z", close)]);
    assert_eq!(states(&told), ["kept"], "{told:?}");
    (site.flat, id)
}

/// Runs a statement as somebody with the database in hands would.
pub fn sql(db: &Db, statement: &str) {
    let changed = db
        .write(|tx| Ok(diesel::sql_query(statement).execute(&mut **tx)?))
        .unwrap();
    assert!(changed > 0, "{statement} changes nothing");
}

pub fn form(db: &Db, id: TurnoverId, form: Form) -> Vec<u8> {
    db.read(|conn| {
        let paper = documents::of_turnover(conn, id)?.unwrap();
        Ok(document_forms::read(conn, &paper, form)?.1)
    })
    .unwrap()
}

pub fn page(db: &Db, id: TurnoverId) -> String {
    let bytes = db.read(|conn| {
        let paper = documents::of_turnover(conn, id)?.unwrap();
        documents::bytes(conn, &paper)
    });
    String::from_utf8(bytes.unwrap()).unwrap()
}

/// What a program of Poppler says of a file.
pub fn poppler(program: &str, options: &[&str], pdf: &[u8]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("given.pdf");
    std::fs::write(&file, pdf).unwrap();
    let output = Command::new(program)
        .args(options)
        .arg(&file)
        .args((program == "pdftotext").then_some("-"))
        .output()
        .unwrap_or_else(|cause| panic!("{program}: {cause}; ./ops/check installs poppler-utils"));
    let said = String::from_utf8(output.stdout).unwrap();
    // Poppler takes this entry for a fault whenever it is false; ISO 32000-1, table 321, has it as a boolean.
    let faults = String::from_utf8_lossy(&output.stderr);
    let faults = faults.replace("Syntax Error: Suspects object is wrong type (boolean)", "");
    assert!(
        output.status.success() && faults.trim().is_empty(),
        "{program}: {said} {faults}"
    );
    said
}

/// The text of each page, with single spaces.
pub fn pages(pdf: &[u8]) -> Vec<String> {
    let text = poppler("pdftotext", &["-raw", "-enc", "UTF-8"], pdf);
    let mut pages: Vec<String> = text.split('\u{c}').map(spaced).collect();
    assert_eq!(
        pages.pop().as_deref(),
        Some(""),
        "each page ends with a form feed"
    );
    pages
}

pub fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub fn count(text: &str, wanted: &str) -> usize {
    text.matches(wanted).count()
}
