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
    refusal(&["flush", "--tank", "1.6"], 2);
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
