//! Our CSV read back by Python's csv module, which knows nothing of us.

use std::io::Write as _;
use std::process::{Command, Stdio};

use anglestop::exchange::csv::text::unguard;
use anglestop::exchange::csv::{Audience, Cell, Table};

use super::round_trip::HOSTILE;
use super::{import_soundly, one, seed};
use crate::support::on_both;

/// The rows as `tests/oracles/read_csv.py` reads them.
pub fn read_by_python(bytes: &[u8]) -> Vec<Vec<String>> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/oracles/read_csv.py");
    let python = std::env::var("ANGLESTOP_TEST_PYTHON")
        .expect("ANGLESTOP_TEST_PYTHON names no Python; ./ops/check finds one and sets it");
    let mut python = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    python.stdin.take().unwrap().write_all(bytes).unwrap();
    let out = python.wait_with_output().unwrap();
    assert!(out.status.success());
    serde_json::from_slice(&out.stdout).unwrap()
}

#[test]
fn python_reads_every_text_as_it_was_typed() {
    for audience in [Audience::Program, Audience::Spreadsheet] {
        let mut table = Table::begin(Vec::new(), audience, &["text", "lines"]).unwrap();
        for text in HOSTILE {
            let lines = format!("{text}\r\n{text}\n");
            table.row([Cell::text(text), Cell::text(lines)]).unwrap();
        }
        let rows = read_by_python(&table.finish().unwrap());
        assert_eq!(rows[0], ["text", "lines"]);
        assert_eq!(rows.len(), HOSTILE.len() + 1);
        for (row, text) in rows[1..].iter().zip(HOSTILE) {
            assert_eq!(unguard(&row[0]), text);
            assert_eq!(unguard(&row[1]), format!("{text}\r\n{text}\n"));
        }
    }
}

#[test]
fn python_finds_the_example_in_its_export() {
    on_both(|fleet| {
        import_soundly(&fleet.db, &seed("fleet-example.csv"));
        let rows = read_by_python(one(&fleet.db).as_bytes());
        assert_eq!(rows.len(), 42);
        let names = &rows[0];
        assert!(rows.iter().all(|row| row.len() == names.len()));
        let cell =
            |row: &[String], name: &str| row[names.iter().position(|known| known == name).unwrap()].clone();
        let row = rows
            .iter()
            .find(|row| cell(row, "unit") == "1. OG rechts" && cell(row, "tag") == "WC-1")
            .unwrap();
        assert_eq!(cell(row, "note"), "Spülkasten 3/16″ schief");
        assert_eq!(cell(row, "model"), "Fjörd 6 l");
        let row = rows
            .iter()
            .find(|row| cell(row, "building") == "BIRCH" && cell(row, "unit") == "A")
            .unwrap();
        assert_eq!(cell(row, "time_zone"), "America/Denver");
        let notes: Vec<_> = rows.iter().map(|row| cell(row, "note")).collect();
        assert!(notes.contains(&"'=A1 is written on the lid; so it is".to_owned()));
        assert!(notes.contains(&"Seat 16 7/8\" high".to_owned()));
        assert!(notes.contains(&"''feucht' seit 2024".to_owned()));
    });
}
