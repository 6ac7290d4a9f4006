//! The command line: `due`, `occurrences` and `verify due` as scripts call them.

use std::process::{Command, Output};

use anglestop::domain::trade::FixtureKind;
use diesel::RunQueryDsl as _;

use super::office::Office;
use crate::support::on_both;

pub fn anglestop(url: &str, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", url])
        .args(words)
        .output()
        .unwrap()
}

pub fn out(output: &Output) -> String {
    assert!(
        output.status.success(),
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout.clone()).unwrap()
}

pub fn refusal(output: &Output) -> String {
    assert_eq!(
        output.status.code(),
        Some(1),
        "{}",
        String::from_utf8_lossy(&output.stdout)
    );
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn office(fleet: &crate::support::Fleet) -> Office<'_> {
    let office = Office::new(fleet, "2024-01-15");
    office.only_schedule("bowls", "last_done", "P1Y", None, &["wc_bowl_firm"]);
    for (label, done) in [
        ("WC-10", "2025-10-05"),
        ("WC-2", "2025-09-05"),
        ("WC-3", "2025-08-15"),
        ("WC-1", "2025-08-15"),
    ] {
        let wc = office.stand(label, FixtureKind::WaterCloset, None, &[]);
        office.result(wc, "", "wc_bowl_firm", "pass", done);
    }
    office
}

fn fixtures(json: &str) -> Vec<(String, String)> {
    let rows: Vec<serde_json::Value> = serde_json::from_str(json).unwrap();
    let text = |row: &serde_json::Value, field: &str| row[field].as_str().unwrap().to_owned();
    rows.iter()
        .map(|row| (text(row, "fixture"), text(row, "state")))
        .collect()
}

#[test]
fn the_due_list_has_exactly_the_fields_that_scripts_rely_on() {
    on_both(|fleet| {
        office(fleet);
        let url = fleet.url.as_str();
        let json = out(&anglestop(
            url,
            &[
                "due",
                "--as-of",
                "2026-08-26",
                "--state",
                "overdue",
                "--format",
                "json",
            ],
        ));
        let rows: Vec<serde_json::Value> = serde_json::from_str(&json).unwrap();
        let expected = serde_json::json!({
            "building": "ALDER", "unit": "204", "fixture": "WC-1", "part": null, "check": "wc_bowl_firm", "schedule": "bowls",
            "anchor": "last_done", "rule": "P1Y", "start": null, "lead_days": 5, "grace_days": 10, "early_days": 5,
            "basis": "done", "counts_from": "2025-08-15", "opens": "2026-08-10", "due": "2026-08-15", "last_day": "2026-08-25",
            "state": "overdue", "days_overdue": 1, "missed": 1, "moved_from": null
        });
        assert_eq!(rows[0], expected);
        let csv = out(&anglestop(
            url,
            &[
                "due",
                "--as-of",
                "2026-08-26",
                "--state",
                "overdue",
                "--format",
                "csv",
            ],
        ));
        let header: Vec<&str> = csv.lines().next().unwrap().trim_end().split(',').collect();
        let fields: Vec<&String> = expected.as_object().unwrap().keys().collect();
        assert_eq!(header, fields);
        assert_eq!(csv.lines().count(), 3);
    });
}

#[test]
fn states_are_exact_and_repeatable_and_without_any_everything_that_is_open_is_listed() {
    on_both(|fleet| {
        office(fleet);
        let listed = |words: &[&str]| {
            let all = [&["due", "--as-of", "2026-09-01", "--json"], words].concat();
            fixtures(&out(&anglestop(&fleet.url, &all)))
        };
        let pairs = |pairs: &[(&str, &str)]| -> Vec<(String, String)> {
            pairs
                .iter()
                .map(|(tag, state)| ((*tag).to_owned(), (*state).to_owned()))
                .collect()
        };
        let (first, second, third, last) = (
            ("WC-1", "overdue"),
            ("WC-3", "overdue"),
            ("WC-2", "in_window"),
            ("WC-10", "later"),
        );
        assert_eq!(listed(&[]), pairs(&[first, second, third]));
        assert_eq!(listed(&["--state", "all"]), pairs(&[first, second, third, last]));
        assert_eq!(listed(&["--state", "later"]), pairs(&[last]));
        assert_eq!(
            listed(&["--state", "in_window", "--state", "later"]),
            pairs(&[third, last])
        );
        assert_eq!(listed(&["--state", "due"]), pairs(&[]));
        assert_eq!(
            listed(&["--building", "alder", "--state", "in_window"]),
            pairs(&[third])
        );
        // Results after the day are not looked at: on that day in 2025 nothing had been done.
        let before = fixtures(&out(&anglestop(
            &fleet.url,
            &["due", "--as-of", "2025-08-14", "--json", "--state", "all"],
        )));
        assert_eq!(before.len(), 4);
        assert!(before.iter().all(|(_, state)| state == "overdue"), "{before:?}");
    });
}

#[test]
fn the_table_says_the_window_as_a_line_and_in_words() {
    on_both(|fleet| {
        office(fleet);
        let table = out(&anglestop(&fleet.url, &["due", "--as-of", "2026-09-01"]));
        let lines: Vec<&str> = table.lines().collect();
        assert_eq!(lines.len(), 4);
        assert!(lines[0].starts_with("BUILDING  UNIT  FIXTURE"), "{table}");
        assert!(lines[1].contains("ALDER") && lines[1].contains("WC-1"), "{table}");
        assert!(
            lines[1].contains("[┴]/│") && lines[1].ends_with("7 days over"),
            "{table}"
        );
        assert!(lines[3].ends_with("due in 4 days"), "{table}");
        let nothing = anglestop(&fleet.url, &["due", "--as-of", "2026-09-01", "--state", "due"]);
        assert_eq!(out(&nothing), "");
        assert!(String::from_utf8_lossy(&nothing.stderr).contains("--state all"));
    });
}

#[test]
fn an_unknown_building_is_refused_with_the_codes_there_are() {
    on_both(|fleet| {
        office(fleet);
        for command in [
            &["due", "--building", "ELM"][..],
            &["verify", "due", "--building", "elm"],
        ] {
            let sentence = refusal(&anglestop(&fleet.url, command));
            assert!(
                sentence.contains("ELM") && sentence.contains("ALDER"),
                "{sentence}"
            );
        }
        assert_eq!(
            anglestop(&fleet.url, &["due", "--state", "soon"]).status.code(),
            Some(2)
        );
    });
}

#[test]
fn verify_finds_a_row_that_was_altered_removed_or_added_and_can_write_it_anew() {
    on_both(|fleet| {
        office(fleet);
        let url = fleet.url.as_str();
        out(&anglestop(url, &["verify", "due"]));
        let tampered = [
            (
                "UPDATE due_rows SET due = '2026-09-06' WHERE due = '2026-09-05'",
                "WC-2",
            ),
            ("DELETE FROM due_rows WHERE due = '2026-10-05'", "no row"),
            (
                "INSERT INTO due_rows SELECT turn, fixture_id, 'trap', check_id, building_id, unit_id, schedule_id, basis, counts_from, \
                 opens, due, last_day, moved_from FROM due_rows WHERE due = '2026-10-05'",
                "trap",
            ),
        ];
        for (statement, named) in tampered {
            fleet
                .db
                .write(|tx| {
                    let changed = diesel::sql_query(statement).execute(&mut **tx)?;
                    assert_eq!(changed, 1, "{statement}");
                    Ok(())
                })
                .unwrap();
            let found = anglestop(url, &["verify", "due"]);
            assert!(
                refusal(&found).contains("1 due row does not agree"),
                "{statement}"
            );
            let differences = String::from_utf8_lossy(&found.stdout).into_owned();
            assert!(
                differences.contains(named) && differences.contains("ALDER 204"),
                "{differences}"
            );
            let json: serde_json::Value =
                serde_json::from_slice(&anglestop(url, &["verify", "due", "--json"]).stdout).unwrap();
            assert_eq!(json.as_array().unwrap().len(), 1);
            assert!(refusal(&anglestop(url, &["verify", "due", "--renew"])).contains("anew"));
            out(&anglestop(url, &["verify", "due"]));
        }
    });
}

#[test]
fn verify_says_of_a_fleet_without_buildings_that_there_are_none() {
    on_both(|fleet| {
        let verified = anglestop(&fleet.url, &["verify", "due"]);
        assert!(verified.status.success());
        let said = String::from_utf8_lossy(&verified.stderr);
        assert!(said.contains("There are no buildings yet"), "{said}");
    });
}

#[test]
fn occurrences_prints_one_date_a_line_from_a_day_on() {
    let dates = |words: &[&str]| {
        out(&anglestop(
            "sqlite://unused.db",
            &[&["occurrences"], words].concat(),
        ))
    };
    let monday = [
        "--rule",
        "FREQ=MONTHLY;BYDAY=1MO",
        "--start",
        "2026-01-01",
        "--from",
        "2026-06-01",
        "--count",
        "3",
    ];
    assert_eq!(dates(&monday), "2026-06-01\n2026-07-06\n2026-08-03\n");
    // RFC 5545 3.8.5.3: daily until 24 December 1997, nine in the morning in New York; the end is an instant.
    let until = [
        "--rule",
        "FREQ=DAILY;UNTIL=19971224T000000Z",
        "--start",
        "1997-09-02T09:00:00",
    ];
    let from = [
        "--zone",
        "America/New_York",
        "--from",
        "1997-12-22",
        "--count",
        "9",
    ];
    assert_eq!(dates(&[&until[..], &from].concat()), "1997-12-22\n1997-12-23\n");
    assert_eq!(
        dates(&[&monday[..], &["--json"]].concat()),
        "[\"2026-06-01\",\"2026-07-06\",\"2026-08-03\"]\n"
    );
    let refused = |words: &[&str]| {
        refusal(&anglestop(
            "sqlite://unused.db",
            &[&["occurrences"], words].concat(),
        ))
    };
    assert!(refused(&["--rule", "FREQ=HOURLY", "--start", "2026-01-01"]).contains("HOURLY"));
    assert!(
        refused(&[
            "--rule",
            "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
            "--start",
            "2026-01-01"
        ])
        .contains("never")
    );
    assert!(refused(&["--rule", "FREQ=DAILY", "--start", "soon"]).contains("soon"));
    assert!(
        refused(&[
            "--rule",
            "FREQ=DAILY",
            "--start",
            "2026-01-01",
            "--zone",
            "Chicago"
        ])
        .contains("America/")
    );
}
