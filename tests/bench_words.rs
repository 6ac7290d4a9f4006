//! The command line at the fixture: `clearance` and `flush` as scripts call them, without a database.

use std::process::{Command, Output};

use serde_json::Value;

fn anglestop(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .env("DATABASE_URL", "sqlite:///nowhere/at/all.db")
        .args(words)
        .output()
        .unwrap()
}

fn json(words: &[&str]) -> Value {
    let output = anglestop(words);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).unwrap()
}

fn refusal(words: &[&str], code: i32) -> String {
    let output = anglestop(words);
    assert_eq!(output.status.code(), Some(code), "{words:?}");
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn clearance_says_which_rule_by_how_much_in_numbers() {
    let found = json(&[
        "clearance",
        "--profile",
        "upc",
        "--left",
        "15 1/8",
        "--right",
        "14 7/8\"",
        "--front",
        "22",
        "--json",
    ]);
    assert_eq!(found["verdict"], "fail");
    let findings = found["findings"].as_array().unwrap();
    assert_eq!(findings.len(), 2);
    assert_eq!(
        (&findings[0]["rule"], &findings[1]["rule"]),
        (&"right".into(), &"front".into())
    );
    assert_eq!(findings[0]["limit"], 15.0);
    assert_eq!(findings[0]["measured"], 14.875);
    assert_eq!(findings[0]["short_by"], 0.125);
    assert_eq!(findings[1]["short_by"], 2.0);
    let kept = json(&[
        "clearance",
        "--profile",
        "ipc",
        "--left",
        "381 mm",
        "--right",
        "1 ft 3",
        "--front",
        "533.4 mm",
        "--json",
    ]);
    assert_eq!(
        (&kept["verdict"], kept["findings"].as_array().unwrap().len()),
        (&"pass".into(), 0)
    );
    let seat = json(&[
        "clearance",
        "--profile",
        "ada",
        "--left",
        "17",
        "--right",
        "44",
        "--front",
        "30",
        "--seat",
        "482.7 mm",
        "--json",
    ]);
    assert_eq!(seat["findings"][0]["rule"], "seat_height");
}

#[test]
fn bad_input_is_a_sentence_and_exit_1_off_words_are_exit_2() {
    let wrong = refusal(
        &[
            "clearance",
            "--profile",
            "ipc",
            "--left",
            "about",
            "--right",
            "-3",
            "--front",
            "22",
        ],
        1,
    );
    assert!(wrong.contains("--left") && wrong.contains("--right"), "{wrong}");
    assert!(
        refusal(
            &[
                "clearance",
                "--profile",
                "bsi",
                "--left",
                "15",
                "--right",
                "15",
                "--front",
                "22"
            ],
            1
        )
        .contains("ipc, upc, ada")
    );
    refusal(&["clearance", "--profile", "ipc", "--left", "15"], 2);
    assert!(refusal(&["flush", "--tank", "1.6", "--refill", "32,33"], 1).contains("3 to 6"));
    assert!(refusal(&["flush", "--tank", "six", "--refill", "32,33,34"], 1).contains("tank"));
    assert!(refusal(&["flush", "--tank", "1.6", "--refill", "-5", "33", "34"], 1).contains("below zero"));
    for refills in [&["-5,33,34"][..], &["33", "-5", "34"], &["-5 s,33,34"]] {
        let words = [&["flush", "--tank", "1.6", "--refill"][..], refills, &["--json"]].concat();
        let told = refusal(&words, 1);
        assert!(
            told.contains("refill") && told.contains("below zero; write 0 or more"),
            "{told}"
        );
    }
    refusal(&["flush", "--tank", "1.6"], 2);
}

/// The numeric options of the bench, each with the rest of its command line.
const NUMERIC: [(&str, &str); 25] = [
    ("--left", "clearance --profile ipc --right 16 --front 22"),
    ("--right", "clearance --profile ipc --left 16 --front 22"),
    ("--front", "clearance --profile upc --left 16 --right 16"),
    (
        "--seat",
        "clearance --profile ada --left 17 --right 42 --front 22",
    ),
    ("--tank", "flush --refill 30,31,32"),
    ("--refill", "flush --tank 1.6 33 34"),
    ("--per-minute", "leak drips"),
    ("--drips-per-gallon", "leak drips --per-minute 60"),
    ("--ounces", "leak cup --seconds 10"),
    ("--seconds", "leak cup --ounces 8"),
    ("--diameter", "leak pinhole --pressure 60"),
    ("--pressure", "leak pinhole --diameter 1/16"),
    ("--length", "leak tank --width 7 --drop 1 --hours 2"),
    ("--width", "leak tank --length 16 --drop 1 --hours 2"),
    ("--drop", "leak tank --length 16 --width 7 --hours 2"),
    ("--hours", "leak tank --length 16 --width 7 --drop 1"),
    ("--gallons", "leak cycle --every 12"),
    ("--every", "leak cycle --gallons 0.5"),
    ("--gallons", "leak meter --hours 2"),
    ("--hours", "leak meter --gallons 3"),
    ("--eta", "life residual --beta 3 --age 10 --within 2"),
    ("--beta", "life residual --eta 12 --age 10 --within 2"),
    ("--age", "life residual --eta 12 --beta 3 --within 2"),
    ("--within", "life residual --eta 12 --beta 3 --age 10"),
    ("--units-inspected", "score --deficiencies /dev/null"),
];

#[test]
fn no_numeric_option_takes_what_is_no_amount() {
    for (option, rest) in NUMERIC {
        for value in ["-5", "-0.5", "NaN", "inf", "-inf", "", " ", "five", "1e999"] {
            let words: Vec<&str> = rest.split(' ').chain([option, value, "--json"]).collect();
            let told = refusal(&words, 1);
            let sentence = told.trim();
            assert!(
                sentence.ends_with('.') && !sentence.contains("panicked"),
                "{words:?}: {told}"
            );
        }
        let words: Vec<&str> = rest
            .split(' ')
            .chain([option, "99999999999999999999999"])
            .collect();
        let output = anglestop(&words);
        let told = [output.stdout, output.stderr].concat();
        let told = String::from_utf8(told).unwrap();
        let known = matches!(output.status.code(), Some(0 | 1));
        assert!(
            known && !told.contains("NaN") && !told.contains("inf ") && !told.contains("-0."),
            "{words:?}: {told}"
        );
    }
    for value in ["-5", "NaN", "inf", "", "1e999", "2.5"] {
        let told = refusal(
            &["forecast", "--building", "ALDER", "--years", value, "--json"],
            1,
        );
        assert!(told.contains("1 to 30"), "{told}");
    }
}

#[test]
fn a_survivor_far_beyond_its_life_fails_soon_and_no_time_is_no_risk() {
    let residual = |age, within| {
        let words = [
            "life", "residual", "--eta", "12", "--beta", "3", "--age", age, "--within", within, "--json",
        ];
        let found = json(&words)["probability"].as_f64().unwrap();
        assert!(found.is_sign_positive());
        found
    };
    assert_eq!(residual("99999999999999999999999", "2"), 1.0);
    assert_eq!(residual("10", "0"), 0.0);
    assert_eq!(residual("0", "1e308"), 1.0);
}

#[test]
fn flush_gives_flows_and_a_verdict_in_numbers() {
    for refills in [&["32,32,32"][..], &["32", "32", "32"][..]] {
        let words = [&["flush", "--json", "--tank", "1.6", "--refill"][..], refills].concat();
        let found = json(&words);
        assert_eq!(found["verdict"], "pass");
        assert_eq!(found["gallons_per_minute"], 3.0);
        assert_eq!(found["expected_s"], 32.0);
        assert_eq!(found["flushes"].as_array().unwrap().len(), 3);
    }
    assert_eq!(
        json(&["flush", "--tank", "1.6", "--refill", "200,201,202", "--json"])["verdict"],
        "fail"
    );
}
