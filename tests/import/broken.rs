//! Every bad row is told in one pass, with line, column, value, reason and remedy, and nothing is stored.

use std::process::Command;

use anglestop::exchange::csv::{Audience, problem};

use super::{import, one, rows_of, seed, text};
use crate::support::{on_both, sqlite};

#[test]
fn every_mistake_of_the_broken_example_is_told_in_one_pass_and_nothing_is_stored() {
    on_both(|fleet| {
        let report = import(&fleet.db, &seed("fleet-broken.csv"));
        let mut told = Vec::new();
        problem::write(&report.problems, &mut told, Audience::Program).unwrap();
        let told = String::from_utf8(told).unwrap();
        let expected = include_str!("broken.csv");
        for (line, (told, expected)) in told.lines().zip(expected.lines()).enumerate() {
            assert_eq!(told, expected, "line {}", line + 1);
        }
        assert_eq!(told.lines().count(), expected.lines().count());
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);
        assert_eq!(rows_of(&fleet.db, "audit WHERE action = 'import_fleet'"), 0);
    });
}

#[test]
fn one_bad_row_of_many_keeps_all_of_them_out() {
    on_both(|fleet| {
        let good = seed("fleet-example.csv").remove(0);
        let mut file = String::from_utf8(good.bytes).unwrap();
        let bad: Vec<&str> = file
            .lines()
            .next()
            .unwrap()
            .split(',')
            .map(|column| match column {
                "building" => "TILIA",
                "unit" => "Keller",
                "tag" => "WC-9",
                "kind" => "toilet",
                _ => "",
            })
            .collect();
        file += &bad.join(",");
        let report = import(&fleet.db, &text(&file));
        assert_eq!(report.problems.len(), 1, "{:?}", report.problems);
        assert_eq!(report.problems[0].column, "kind");
        assert_eq!(one(&fleet.db).lines().count(), 1);
    });
}

/// A file that can't be read at all, and the words that it is refused with.
#[test]
fn a_file_that_is_no_such_csv_is_refused_with_what_to_do() {
    let fleet = sqlite();
    let cases: [(&[u8], &str, &str); 7] = [
        (b"", "empty", "Begin with a line of column names"),
        (b"building;unit\nA;1\n", "separated by semicolons", "commas"),
        (b"building,unit\nA,Caf\xe9\n", "not UTF-8", "CSV UTF-8"),
        (b"building,unit\nA,\"1\n", "never closed", "Close it"),
        (
            b"unit,tag\n1,WC-1\n",
            "column building is missing",
            "Add a column building",
        ),
        (
            b"building,unit,unit\nA,1,1\n",
            "column unit is there twice",
            "Name each column once",
        ),
        (b"PK\x03\x04\x00", "zero byte", "CSV UTF-8"),
    ];
    for (bytes, reason, remedy) in cases {
        let mut files = text("");
        files[0].bytes = bytes.to_vec();
        let report = import(&fleet.db, &files);
        let told = report
            .problems
            .iter()
            .find(|problem| problem.reason.contains(reason));
        let told = told.unwrap_or_else(|| panic!("{reason} not in {:?}", report.problems));
        assert!(told.remedy.contains(remedy), "{told:?}");
    }
}

#[test]
fn a_column_that_begins_with_a_number_sign_is_left_out() {
    let fleet = sqlite();
    let file = "building,time_zone,joined_on,unit,#colour\nA,UTC,2026-01-01,1,red\n";
    assert_eq!(import(&fleet.db, &text(file)).problems, []);
}

#[test]
fn buildings_of_one_portfolio_cannot_call_it_by_two_names() {
    let fleet = sqlite();
    let file = "building,time_zone,joined_on,portfolio,portfolio_name\n\
                A,UTC,2026-01-01,P,One\nB,UTC,2026-01-01,P,Two\n";
    let report = import(&fleet.db, &text(file));
    assert_eq!(report.problems.len(), 1);
    assert_eq!(report.problems[0].line, 3);
    assert!(
        report.problems[0]
            .reason
            .contains("called “One” in fleet.csv, line 2")
    );
}

fn anglestop(fleet: &crate::support::Fleet, words: &[&str]) -> (i32, String, String) {
    let out = Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url])
        .args(words)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (out.status.code().unwrap(), text(out.stdout), text(out.stderr))
}

#[test]
fn at_the_command_line_a_bad_file_ends_with_1_and_a_dry_run_stores_nothing() {
    on_both(|fleet| {
        let (code, out, err) = anglestop(fleet, &["import", "seeds/fleet-broken.csv"]);
        assert_eq!((code, out.as_str()), (1, ""));
        assert!(err.contains("fleet-broken.csv:5"), "{err}");
        assert!(
            err.ends_with("things must be mended. Nothing was stored.\n"),
            "{err}"
        );

        let (code, out, _) = anglestop(fleet, &["import", "seeds/fleet-broken.csv", "--json"]);
        let report: serde_json::Value = serde_json::from_str(&out).unwrap();
        assert_eq!(code, 1);
        assert_eq!(report["problems"][3]["line"], 3);

        let (code, out, err) = anglestop(fleet, &["import", "seeds/fleet-example.csv", "--dry-run"]);
        assert_eq!(code, 0, "{err}");
        assert!(
            out.contains("fixtures                39         0          0"),
            "{out}"
        );
        assert_eq!(err, "Nothing was stored: this was a dry run.\n");
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);

        let (code, _, err) = anglestop(fleet, &["import", "seeds/fleet-example.csv"]);
        assert_eq!((code, err.as_str()), (0, "Stored.\n"));
        let (code, _, err) = anglestop(fleet, &["import", "seeds/fleet-example.csv"]);
        assert_eq!(
            (code, err.as_str()),
            (0, "Nothing is new or changed. Nothing was stored.\n")
        );
        let (code, out, _) = anglestop(fleet, &["export", "fleet", "--building", "birch"]);
        assert_eq!(code, 0);
        assert_eq!(out.lines().count(), 8);
        let (code, _, err) = anglestop(fleet, &["export", "fleet", "--building", "OAK"]);
        assert_eq!((code, err.as_str()), (1, "There is no such building here.\n"));
        let (code, _, err) = anglestop(fleet, &["import", "no-such-file.csv"]);
        assert_eq!(code, 1);
        assert!(err.contains("no-such-file.csv can't be read"), "{err}");
    });
}

#[test]
fn the_columns_are_described_at_the_command_line() {
    let fleet = sqlite();
    let (code, out, _) = anglestop(&fleet, &["export", "fleet", "--columns"]);
    assert_eq!(code, 0);
    assert!(out.starts_with("column,meaning,unit,example,blank\r\nportfolio,"));
    assert!(out.contains("\r\nparts,"));
}

#[test]
fn two_households_at_a_time_are_told_at_the_row_of_the_later_one() {
    on_both(|fleet| {
        let mut files = super::seed_folder("fleet-example");
        let households = files
            .iter_mut()
            .find(|file| file.name == "households.csv")
            .unwrap();
        let mut given = String::from_utf8(households.bytes.clone()).unwrap();
        let lines = given.lines().count();
        given.push_str("ALDER,102,Second Household,en,,,,2024-05-01,\r\n");
        households.bytes = given.into_bytes();
        let report = import(&fleet.db, &files);
        let told: Vec<_> = report
            .problems
            .iter()
            .map(|problem| (problem.line, problem.column.as_str(), problem.value.as_str()))
            .collect();
        assert_eq!(told.len(), 1, "{:?}", report.problems);
        assert_eq!((told[0].1, told[0].2), ("moved_in_on", "2024-05-01"));
        assert!(usize::try_from(told[0].0).unwrap() > lines, "{told:?}");
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);
    });
}
