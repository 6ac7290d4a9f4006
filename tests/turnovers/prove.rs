//! Whether a record is unaltered: nothing is found on one that is, and one changed byte, row or photo is found and named.

use std::process::Command;

use anglestop::actions::turnovers::prove::{Proof, prove};
use anglestop::domain::register::TurnoverId;
use anglestop::domain::register::person::Scope;
use anglestop::domain::result::Outcome;
use anglestop::error::Error;
use anglestop::store::document_forms::Form;
use anglestop::store::{AnyConnection, Db};
use diesel::RunQueryDsl as _;
use serde_json::Value;

use super::paper::photos::{arrive, client_id, with_photos};
use super::paper::{closed, form, page, sql};
use crate::results::stage::of;
use crate::support::{Fleet, on_both};

fn proof(db: &Db, id: TurnoverId) -> Proof {
    db.read(|conn| prove(conn, &Scope::All, id)).unwrap()
}

/// The one difference of a record.
fn only(db: &Db, id: TurnoverId) -> String {
    let found = proof(db, id).differences;
    assert_eq!(found.len(), 1, "{found:#?}");
    found[0].clone()
}

/// The one difference that a record would have after a statement, which is taken back.
fn only_after(db: &Db, id: TurnoverId, statement: &str) -> String {
    let mut found = Vec::new();
    let taken_back: Result<(), Error> = db.write(|tx| {
        let changed = diesel::sql_query(statement).execute(&mut **tx)?;
        assert!(changed > 0, "{statement} changes nothing");
        found = prove(tx, &Scope::All, id)?.differences;
        Err(Error::refused("taken back"))
    });
    assert!(
        matches!(&taken_back, Err(Error::Refused(words)) if words == "taken back"),
        "{taken_back:?}"
    );
    assert_eq!(found.len(), 1, "{statement}: {found:#?}");
    found.remove(0)
}

/// A statement that puts another value in the place of one byte.
fn other_byte(db: &Db, table: &str, wher: &str) -> String {
    let is_sqlite = db
        .read(|conn| Ok(matches!(conn, AnyConnection::Sqlite(_))))
        .unwrap();
    let changed = if is_sqlite {
        "CAST(substr(bytes, 1, 200) || x'07' || substr(bytes, 202) AS BLOB)"
    } else {
        "set_byte(bytes, 200, 7)"
    };
    format!("UPDATE {table} SET bytes = {changed} WHERE {wher}")
}

/// Does it.
fn alter_byte(db: &Db, table: &str, wher: &str) {
    sql(db, &other_byte(db, table, wher));
}

/// Exit code, standard output, standard error of `verify turnover`.
fn command(fleet: &Fleet, words: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url, "verify", "turnover"])
        .args(words)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (
        output.status.code().unwrap(),
        text(output.stdout),
        text(output.stderr),
    )
}

#[test]
fn nothing_is_found_on_a_record_that_is_unaltered_while_the_world_goes_on() {
    on_both(|fleet| {
        let (flat, id, pictures) = with_photos(&fleet.db);
        assert_eq!(proof(&fleet.db, id).differences, [""; 0]);
        let (code, _, said) = command(fleet, &[&id.to_string()]);
        assert_eq!((code, said.trim()), (0, "Record 1 of turnover 1 is unaltered."));
        // A later result, a later photo, a name and a label that change are no difference.
        flat.small
            .answer("2026-03-01", of(flat.closet, "wc_seat", Outcome::Fail))
            .unwrap();
        arrive(&flat, 2, &pictures[1], "2026-02-11 09:00:00");
        sql(
            &fleet.db,
            "UPDATE people SET name = 'Rosa Vance-Lind' WHERE id = 2",
        );
        sql(&fleet.db, "UPDATE units SET label = '204 A' WHERE label = '204'");
        let proof = proof(&fleet.db, id);
        assert_eq!(proof.differences, [""; 0]);
        let later: Vec<&String> = proof
            .notes
            .iter()
            .filter(|note| note.contains("arrived after the signing"))
            .collect();
        assert_eq!(later.len(), 1, "{:?}", proof.notes);
        assert!(later[0].contains(&client_id(2)));
    });
}

#[test]
fn one_changed_byte_of_any_form_is_found_and_named() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        for (table, wher, name) in [
            ("documents", "turnover_id = 1", "The page of the record"),
            (
                "document_forms",
                "form = 'copy'",
                "The household's copy of the record",
            ),
            (
                "document_forms",
                "form = 'copy_pdf'",
                "The household's copy as PDF of the record",
            ),
        ] {
            let sentence = only_after(&fleet.db, id, &other_byte(&fleet.db, table, wher));
            assert!(sentence.starts_with(name), "{name}: {sentence}");
        }
        alter_byte(&fleet.db, "document_forms", "form = 'pdf'");
        let sentence = only(&fleet.db, id);
        let begin = "The PDF of the record (turnover-alder-1.pdf) was issued with SHA-256 ";
        assert!(sentence.starts_with(begin), "{sentence}");
        let (code, said, wrong) = command(fleet, &[&id.to_string()]);
        assert_eq!(code, 1);
        assert!(said.contains(&sentence), "{said}");
        let words = "Record 1 of turnover 1 is altered: 1 thing is not as it was signed.";
        assert!(wrong.contains(words), "{wrong}");
    });
}

#[test]
fn one_changed_row_is_found_and_named() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        sql(
            &fleet.db,
            "UPDATE results SET reading = '2 s' WHERE id = (SELECT min(id) FROM results WHERE reading = '10')",
        );
        let sentence = only(&fleet.db, id);
        assert!(
            sentence.starts_with("Result ") && sentence.contains(": reading was “10"),
            "{sentence}"
        );
        assert!(
            sentence.ends_with("when the record was signed and is “2 s” now."),
            "{sentence}"
        );
        let (code, said, _) = command(fleet, &[&id.to_string(), "--json"]);
        let told: Value = serde_json::from_str(&said).unwrap();
        assert_eq!(code, 1);
        assert_eq!(told["unaltered"], false);
        assert_eq!(told["differences"], serde_json::json!([sentence]));
        assert_eq!(told["forms"].as_array().unwrap().len(), 5);
    });
}

#[test]
fn other_rows_are_held_against_the_list_too() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        for (statement, named) in [
            (
                "UPDATE turnovers SET signed_name = 'Somebody Else'",
                "Turnover 1: signed_name was “Łukasz",
            ),
            (
                "UPDATE turnovers SET signature = ''",
                "Turnover 1: signature was ",
            ),
            (
                "UPDATE results SET outcome = 'pass' WHERE outcome = 'fail'",
                "outcome was “fail” when the record was signed and is “pass” now.",
            ),
            ("UPDATE results SET note = 'x' WHERE id = 1", ": note was "),
            (
                "UPDATE deficiencies SET closed_at = '2026-02-01 00:00:00'",
                "Deficiency 1: closed_at was ",
            ),
            (
                "UPDATE document_forms SET sha256 = 'aa' WHERE form = 'pdf'",
                "The PDF of the record",
            ),
            (
                "DELETE FROM document_forms WHERE form = 'copy'",
                "The household's copy of the record is gone.",
            ),
            (
                "UPDATE results SET turnover_id = NULL, turnover_stage = NULL WHERE id = 2",
                " stood in the record and is gone.",
            ),
        ] {
            let sentence = only_after(&fleet.db, id, statement);
            assert!(sentence.contains(named), "{statement}: {sentence}");
        }
    });
}

#[test]
fn one_changed_photo_is_found_and_named() {
    on_both(|fleet| {
        let (_, id, _) = with_photos(&fleet.db);
        let third = format!(
            "photo_id = (SELECT id FROM photos WHERE client_id = '{}')",
            client_id(3)
        );
        alter_byte(&fleet.db, "photo_files", &third);
        let sentence = only(&fleet.db, id);
        assert!(
            sentence.starts_with(&format!("Photo {} was kept with SHA-256 ", client_id(3))),
            "{sentence}"
        );
        let (code, said, _) = command(fleet, &[&id.to_string()]);
        assert_eq!(code, 1);
        assert!(said.contains(&sentence));
    });
    on_both(|fleet| {
        let (_, id, _) = with_photos(&fleet.db);
        // Also one that had not come when it was signed is held to what was announced.
        sql(
            &fleet.db,
            &format!(
                "UPDATE photos SET sent_sha256 = 'bb' WHERE client_id = '{}'",
                client_id(2)
            ),
        );
        let sentence = only(&fleet.db, id);
        assert!(
            sentence.starts_with(&format!("Photo {}: sent_sha256 was ", client_id(2))),
            "{sentence}"
        );
    });
}

#[test]
fn a_file_is_known_again_byte_for_byte_and_an_altered_one_names_its_record() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, bytes: &[u8]| {
            let file = folder.path().join(name);
            std::fs::write(&file, bytes).unwrap();
            file.to_str().unwrap().to_owned()
        };
        let pdf = form(&fleet.db, id, Form::Pdf);
        for (bytes, name) in [
            (pdf.clone(), "the PDF"),
            (page(&fleet.db, id).into_bytes(), "the page"),
            (form(&fleet.db, id, Form::CopyPdf), "the household's copy as PDF"),
        ] {
            let (code, said, _) = command(fleet, &[&write("given", &bytes)]);
            assert_eq!(code, 0, "{said}");
            assert!(
                said.contains(&format!(
                    "is byte for byte {name} of record 1 of turnover 1 as it was issued."
                )),
                "{said}"
            );
        }
        for (at, original) in [(pdf.len() / 2, &pdf), (900, &page(&fleet.db, id).into_bytes())] {
            let mut altered = original.clone();
            altered[at] ^= 1;
            let (code, said, wrong) = command(fleet, &[&write("altered", &altered)]);
            assert_eq!(code, 1);
            assert!(
                said.contains("says that it is record 1 of turnover 1, and is not as that was issued."),
                "{said}"
            );
            assert!(said.contains(&format!("from byte {} on", at + 1)), "{said}");
            assert!(
                wrong
                    .contains("The file is altered. Record 1 of turnover 1 as it is kept here is unaltered."),
                "{wrong}"
            );
        }
        let (code, said, _) = command(fleet, &[&write("other", b"%PDF-1.7 something else"), "--json"]);
        let told: Value = serde_json::from_str(&said).unwrap();
        assert_eq!((code, &told["file"]["state"]), (1, &Value::from("unknown")));
        let (code, _, wrong) = command(fleet, &["999"]);
        assert_eq!(code, 1);
        assert!(wrong.contains("There is no turnover 999 here."), "{wrong}");
        let (code, _, wrong) = command(fleet, &["/nowhere/record.pdf"]);
        assert_eq!(code, 1);
        assert!(wrong.contains("can't be read"), "{wrong}");
    });
}
