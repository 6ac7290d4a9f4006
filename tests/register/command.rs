//! The register by command line, addressed by codes and labels.

use std::process::{Command, Output};

use crate::support::{Fleet, on_both};

fn run(fleet: &Fleet, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url, "register"])
        .args(words)
        .env("COLUMNS", "200")
        .output()
        .unwrap()
}

/// What is printed when it was done.
fn done(fleet: &Fleet, words: &[&str]) -> String {
    let output = run(fleet, words);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{words:?}: {said}");
    String::from_utf8(output.stdout).unwrap().trim().to_owned()
}

/// The sentence when it was refused.
fn refused(fleet: &Fleet, words: &[&str]) -> String {
    let output = run(fleet, words);
    assert_eq!(output.status.code(), Some(1), "{words:?}");
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr).unwrap()
}

fn json(fleet: &Fleet, words: &[&str]) -> serde_json::Value {
    serde_json::from_str(&done(fleet, words)).unwrap()
}

const UNIT: [&str; 4] = ["--building", "ELM", "--unit", "3"];
const CLOSET: [&str; 6] = ["--building", "ELM", "--unit", "3", "--tag", "WC-1"];

fn with<'a>(words: &[&'a str], at: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [words, at, more].concat()
}

fn elm(fleet: &Fleet) {
    done(
        fleet,
        &["portfolio", "add", "--code", "north", "--name", "North Holdings"],
    );
    let building = [
        "building",
        "add",
        "elm",
        "--name",
        "Elm Row",
        "--portfolio",
        "north",
        "--time-zone",
        "America/Chicago",
        "--joined-on",
        "2025-01-01",
    ];
    assert_eq!(done(fleet, &building), "ELM");
    assert_eq!(
        done(fleet, &with(&["unit", "add"], &UNIT, &["--floor", "-1"])),
        "ELM 3"
    );
}

#[test]
fn the_register_is_kept_from_the_command_line_by_codes_and_labels() {
    on_both(|fleet| {
        elm(fleet);
        let add = with(
            &[
                "fixture",
                "add",
                "--kind",
                "water_closet",
                "--room",
                "Bath",
                "--installed-on",
                "2012",
            ],
            &UNIT,
            &[],
        );
        assert_eq!(done(fleet, &add), "ELM 3 WC-1");
        done(
            fleet,
            &with(
                &["fixture", "change"],
                &CLOSET,
                &["--maker", "Harrow", "--room", "Hall bath"],
            ),
        );
        done(
            fleet,
            &with(
                &["part", "replace", "--part", "flapper", "--on", "2025-02-01"],
                &CLOSET,
                &[],
            ),
        );
        done(
            fleet,
            &with(
                &["part", "add", "--part", "seat", "--installed-on", "2019-05"],
                &CLOSET,
                &[],
            ),
        );
        done(fleet, &with(&["part", "retire", "--part", "seat"], &CLOSET, &[]));
        let shown = json(fleet, &with(&["show", "--json"], &UNIT, &[]));
        assert_eq!(shown[0]["maker"], "Harrow");
        assert_eq!(shown[0]["room"], "Hall bath");
        assert_eq!(
            (&shown[0]["installed_on"], &shown[0]["installed_estimated"]),
            (&"2012-07-01".into(), &true.into())
        );
        done(
            fleet,
            &with(
                &["fixture", "replace", "--on", "2025-03-01", "--no-parts"],
                &CLOSET,
                &[],
            ),
        );
        let history = json(fleet, &with(&["show", "--json"], &CLOSET, &[]));
        let statuses: Vec<_> = history
            .as_array()
            .unwrap()
            .iter()
            .map(|row| row["status"].as_str().unwrap())
            .collect();
        assert_eq!(statuses, ["in_service", "replaced"]);
        assert_eq!(history[0]["parts"].as_array().unwrap().len(), 0);
        assert_eq!(
            history[1]["parts"].as_array().unwrap().len(),
            7,
            "five standard, a replaced flapper, a retired seat"
        );
        assert_eq!(
            done(
                fleet,
                &with(&["fixture", "move", "--to-tag", "WC-5"], &CLOSET, &[])
            ),
            "ELM 3 WC-5"
        );
        let gone = [
            "fixture",
            "retire",
            "--building",
            "ELM",
            "--unit",
            "3",
            "--tag",
            "wc-5",
            "--note",
            "bath rebuilt",
        ];
        done(fleet, &gone);
        assert_eq!(
            json(fleet, &with(&["show", "--json"], &UNIT, &[]))
                .as_array()
                .unwrap()
                .len(),
            0
        );
    });
}

#[test]
fn a_changed_building_or_unit_keeps_what_was_not_given() {
    on_both(|fleet| {
        elm(fleet);
        assert_eq!(
            done(fleet, &["building", "change", "elm", "--notice-hours", "48"]),
            "ELM"
        );
        let shown = json(fleet, &["show", "--json"]);
        assert_eq!(shown[0]["notice_hours"], 48);
        assert_eq!(shown[0]["name"], "Elm Row");
        assert_eq!(shown[0]["joined_on"], "2025-01-01");
        assert_eq!(
            done(
                fleet,
                &with(&["unit", "change"], &UNIT, &["--occupancy", "vacant"])
            ),
            "ELM 3"
        );
        let units = json(fleet, &["show", "--building", "ELM", "--json"]);
        assert_eq!(
            (&units[0]["floor"], &units[0]["occupancy"]),
            (&(-1).into(), &"vacant".into())
        );
        assert!(done(fleet, &["show"]).contains("Elm Row"));
    });
}

#[test]
fn households_and_rooms_come_and_go_from_the_command_line() {
    on_both(|fleet| {
        elm(fleet);
        done(
            fleet,
            &with(
                &[
                    "household",
                    "add",
                    "--name",
                    "Okafor",
                    "--moved-in-on",
                    "2025-02-01",
                ],
                &UNIT,
                &[],
            ),
        );
        done(fleet, &with(&["household", "leave"], &UNIT, &[]));
        let none = refused(fleet, &with(&["household", "leave"], &UNIT, &[]));
        assert!(none.contains("No household lives in unit 3 today"), "{none}");
        for room in ["Bath", "Kitchen", "Hall"] {
            done(fleet, &with(&["room", "add", "--room", room], &UNIT, &[]));
        }
        done(
            fleet,
            &with(
                &[
                    "room", "change", "--room", "hall", "--name", "Entry", "--place", "1",
                ],
                &UNIT,
                &[],
            ),
        );
        for (room, kind) in [("Kitchen", "kitchen_sink"), ("Entry", "smoke_alarm")] {
            done(
                fleet,
                &with(&["fixture", "add", "--room", room, "--kind", kind], &UNIT, &[]),
            );
        }
        let shown = json(fleet, &with(&["show", "--json"], &UNIT, &[]));
        assert_eq!(
            (&shown[0]["room"], &shown[1]["room"]),
            (&"Entry".into(), &"Kitchen".into())
        );
        let none = refused(fleet, &with(&["room", "change", "--room", "Attic"], &UNIT, &[]));
        assert!(none.contains("It has: Entry, Bath, Kitchen."), "{none}");
    });
}

#[test]
fn what_is_not_there_or_cannot_be_is_refused_with_what_to_do() {
    on_both(|fleet| {
        elm(fleet);
        let cases: [(Vec<&str>, &str); 7] = [
            (
                vec!["show", "--building", "NOPE"],
                "“anglestop register show” lists",
            ),
            (
                vec!["show", "--building", "ELM", "--unit", "9"],
                "ELM has no unit 9",
            ),
            (
                with(&["fixture", "retire"], &CLOSET, &[]),
                "Unit 3 has no tag WC-1",
            ),
            (
                with(&["fixture", "add", "--kind", "bidet"], &UNIT, &[]),
                "it is one of water_closet",
            ),
            (
                with(
                    &[
                        "fixture",
                        "add",
                        "--kind",
                        "lavatory",
                        "--installed-on",
                        "2999-01-01",
                    ],
                    &UNIT,
                    &[],
                ),
                "in the future",
            ),
            (
                vec![
                    "building",
                    "add",
                    "ELM",
                    "--name",
                    "x",
                    "--portfolio",
                    "NORTH",
                    "--time-zone",
                    "UTC",
                ],
                "ELM is there already",
            ),
            (
                vec!["building", "add", "OAK", "--portfolio", "NOPE"],
                "There is no portfolio NOPE",
            ),
        ];
        for (words, wanted) in cases {
            let said = refused(fleet, &words);
            assert!(said.contains(wanted), "{words:?}: {said}");
        }
        assert_eq!(json(fleet, &["show", "--json"]).as_array().unwrap().len(), 1);
    });
}

#[test]
fn the_help_names_every_word_and_what_it_is_for() {
    let fleet = crate::support::sqlite();
    let help = |words: &[&str]| {
        let output = run(&fleet, words);
        assert!(output.status.success());
        String::from_utf8(output.stdout).unwrap()
    };
    let all = help(&["--help"]);
    for word in [
        "portfolio",
        "building",
        "unit",
        "household",
        "room",
        "fixture",
        "part",
        "show",
    ] {
        assert!(all.contains(word), "{all}");
    }
    let add = help(&["fixture", "add", "--help"]);
    for word in [
        "--building <CODE>",
        "--tag <LABEL>",
        "the next free one of its kind",
        "--installed-on <DATE>",
        "--no-parts",
    ] {
        assert!(add.contains(word), "{add}");
    }
    let lonely = run(&fleet, &["fixture", "add"]);
    assert_eq!(lonely.status.code(), Some(2), "the words of the command are off");
}

#[test]
fn the_terms_of_a_building_are_set_piece_by_piece() {
    on_both(|fleet| {
        elm(fleet);
        let terms = |words: &[&str]| json(fleet, &with(&["building", "terms", "elm"], words, &["--json"]));
        let set = terms(&[
            "--water-price",
            "4.63",
            "--sewer-price",
            "6.10",
            "--currency",
            "usd",
        ]);
        let all = serde_json::json!({
            "building": "ELM", "water_minor": 463, "sewer_minor": 610, "billed": "ccf", "currency": "USD", "programme": ""
        });
        assert_eq!(set, all);
        let voucher = terms(&["--programme", "voucher"]);
        assert_eq!(
            (&voucher["programme"], &voucher["water_minor"]),
            (&"voucher".into(), &463.into())
        );
        assert_eq!(terms(&[]), voucher, "what is not given stays");
        for (option, value, said) in [
            ("--water-price", "-4", "-4"),
            ("--water-price", "nan", "nan"),
            ("--billed", "barrel", "barrel"),
            ("--currency", "dollars", "three letters"),
            ("--programme", "none-such", "is no programme"),
        ] {
            let told = refused(fleet, &["building", "terms", "ELM", option, value]);
            assert!(told.contains(said), "{option} {value}: {told}");
        }
        assert_eq!(terms(&[]), voucher, "a refusal changes nothing");
        let gone = terms(&["--water-price", "", "--sewer-price", ""]);
        assert_eq!(gone["water_minor"], serde_json::Value::Null);
        refused(fleet, &["building", "terms", "NOWHERE", "--water-price", "1"]);
    });
}
