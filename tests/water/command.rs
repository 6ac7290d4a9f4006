//! `anglestop leak` by its fixed words.

use std::process::{Command, Output};

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(words)
        .env_remove("DATABASE_URL")
        .output()
        .unwrap()
}

fn gallons(words: &[&str]) -> f64 {
    let mut all = vec!["leak"];
    all.extend_from_slice(words);
    all.push("--json");
    let output = run(&all);
    assert!(output.status.success(), "{words:?}: {output:?}");
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let (gallons, litres) = (
        answer["gallons_per_day"].as_f64().unwrap(),
        answer["litres_per_day"].as_f64().unwrap(),
    );
    assert!((litres / 3.785411784 - gallons).abs() < 1e-9 * gallons.max(1.0));
    gallons
}

/// Expected: EPA and AWWA's drip, 5,400 / s for 8 oz, utilities' pinhole table, 231 in3, as in the case file.
#[test]
fn the_terminal_reckons_what_the_pages_do() {
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-6 * expected, "{found}");
    near(gallons(&["drips", "--per-minute", "60"]), 8.64);
    let own = ["drips", "--per-minute", "60", "--drips-per-gallon", "15140"];
    near(gallons(&own), 86_400.0 / 15_140.0);
    near(gallons(&["cup", "--ounces", "8", "--seconds", "54"]), 100.0);
    near(gallons(&["cycle", "--gallons", "0.5", "--every", "12"]), 60.0);
    near(gallons(&["meter", "--gallons", "3", "--hours", "2"]), 36.0);
    let tank = [
        "tank", "--length", "21", "--width", "11", "--drop", "1", "--hours", "2",
    ];
    near(gallons(&tank), 12.0);
    let pinhole = gallons(&["pinhole", "--diameter", "1/16", "--pressure", "60"]);
    assert!((800.0..810.0).contains(&pinhole), "{pinhole}");
}

#[test]
fn a_figure_that_cannot_be_used_is_a_sentence_and_exit_1_an_unknown_word_exit_2() {
    for (words, part) in [
        (vec!["drips", "--per-minute", "301"], "stream"),
        (vec!["drips", "--per-minute", "-1"], "below zero"),
        (vec!["drips", "--per-minute", "many"], "can't be read"),
        (vec!["cup", "--ounces", "8", "--seconds", "0"], "more than 0"),
        (vec!["meter", "--gallons", "3", "--hours", "two"], "can't be read"),
    ] {
        let mut all = vec!["leak"];
        all.extend(words.clone());
        let output = run(&all);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{words:?}: {said}");
        assert!(said.contains(part) && output.stdout.is_empty(), "{said}");
    }
    for words in [
        vec!["leak", "drops"],
        vec!["leak", "drips"],
        vec!["leak", "cup", "--ounces", "8"],
    ] {
        assert_eq!(run(&words).status.code(), Some(2), "{words:?}");
    }
    let spoken = run(&["leak", "drips", "--per-minute", "60"]);
    let said = String::from_utf8(spoken.stdout).unwrap();
    assert!(
        said.starts_with("8.64 gal a day, 32.7 L a day (10,000 drips a gallon"),
        "{said}"
    );
}
