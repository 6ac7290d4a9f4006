//! `anglestop record` as a script calls it.

use std::process::{Command, Output};

use uuid::Uuid;

use super::stage::{Stage, stage};
use crate::support::{Fleet, on_both};

fn anglestop(fleet: &Fleet, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url, "record"])
        .args(words)
        .output()
        .unwrap()
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

const PLACE: [&str; 6] = ["--building", "alder", "--unit", "204", "--fixture", "wc-1"];

fn one(fleet: &Fleet, words: &[&str]) -> (Option<i32>, String, String) {
    let words: Vec<&str> = PLACE.iter().chain(words).copied().collect();
    said(&anglestop(fleet, &words))
}

fn with_a_closet(fleet: &Fleet) -> Stage {
    let stage = stage(&fleet.db);
    stage.water_closet();
    stage
}

#[test]
fn the_same_id_twice_changes_nothing_and_with_another_content_is_refused() {
    on_both(|fleet| {
        let stage = with_a_closet(fleet);
        let id = Uuid::new_v4().to_string();
        let words = |outcome: &'static str| {
            ["--check", "wc_seat", "--outcome", outcome, "--json", "--id", &id].map(str::to_owned)
        };
        let run = |outcome: &'static str| {
            let words = words(outcome);
            one(fleet, &words.iter().map(String::as_str).collect::<Vec<_>>())
        };
        let (code, out, _) = run("fail");
        assert_eq!(code, Some(0));
        let done: serde_json::Value = serde_json::from_str(&out).unwrap();
        assert_eq!(
            (&done["recorded"], &done["opened"]),
            (&1.into(), &serde_json::json!([1]))
        );
        let (code, out, _) = run("fail");
        let done: serde_json::Value = serde_json::from_str(&out).unwrap();
        assert_eq!(
            (code, &done["recorded"], &done["already"]),
            (Some(0), &0.into(), &1.into())
        );
        let (code, _, err) = run("pass");
        assert_eq!(code, Some(1));
        assert!(err.contains("is already a result: fail"), "{err}");
        assert_eq!((stage.count("results"), stage.count("deficiencies")), (1, 1));
    });
}

#[test]
fn what_can_not_be_recorded_is_a_sentence_and_exit_code_1() {
    on_both(|fleet| {
        let stage = with_a_closet(fleet);
        let cases: [(&[&str], &str); 6] = [
            (&["--check", "wc_seat"], "nothing was answered"),
            (
                &["--check", "wc_seat", "--outcome", "good"],
                "“good” is not an outcome",
            ),
            (
                &["--check", "wc_seat", "--outcome", "pass", "--part", "lid"],
                "“lid” is not a part",
            ),
            (
                &["--check", "wc_seat", "--outcome", "pass", "--id", "17"],
                "“17” is no UUID",
            ),
            (
                &[
                    "--check",
                    "wc_seat",
                    "--outcome",
                    "pass",
                    "--done-at",
                    "yesterday",
                ],
                "no date with a time",
            ),
            (
                &["--check", "wc_seat", "--outcome", "not_checked"],
                "say why it could not be checked",
            ),
        ];
        for (words, part) in cases {
            let (code, out, err) = one(fleet, words);
            assert_eq!((code, out.as_str()), (Some(1), ""), "{words:?}: {err}");
            assert!(err.contains(part), "{words:?}: {err}");
        }
        let unknown = said(&anglestop(
            fleet,
            &[
                "--building",
                "ELM",
                "--unit",
                "1",
                "--fixture",
                "WC-1",
                "--check",
                "wc_seat",
                "--outcome",
                "pass",
            ],
        ));
        assert!(
            unknown.0 == Some(1) && unknown.2.contains("There is no building “ELM”"),
            "{unknown:?}"
        );
        let (code, _, err) = said(&anglestop(fleet, &["--check", "wc_seat"]));
        assert_eq!(code, Some(2), "{err}");
        assert_eq!(stage.count("results"), 0);
    });
}

#[test]
fn a_file_is_recorded_whole_or_not_at_all_and_twice_changes_nothing() {
    on_both(|fleet| {
        let stage = with_a_closet(fleet);
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, text: &str| {
            let path = folder.path().join(name);
            std::fs::write(&path, text).unwrap();
            path.display().to_string()
        };
        let header = "building,unit,tag,part,check,outcome,reading,note,done_at\r\n";
        let good = "ALDER,204,WC-1,,wc_seat,pass,,,2026-03-01 10:00\r\n\
            ALDER,204,WC-1,fill_valve,wc_refill,,200 s,slow,2026-03-01 10:05\r\n";
        let bad = write(
            "bad.csv",
            &format!(
                "{header}{good}ALDER,204,WC-9,,wc_seat,pass,,,\r\nALDER,204,WC-1,,wc_seat,pass,,,2019-01-01\r\n"
            ),
        );
        let (code, out, err) = said(&anglestop(fleet, &["--file", &bad]));
        assert_eq!((code, out.as_str()), (Some(1), ""));
        assert!(err.contains("line 4: There is no place “WC-9”"), "{err}");
        assert_eq!(stage.count("results"), 0);
        let file = write("good.csv", &format!("{header}{good}"));
        let (code, out, err) = said(&anglestop(fleet, &["--file", &file]));
        assert_eq!(code, Some(0), "{err}");
        assert_eq!(out, "2 results recorded.\nOpened deficiency 1.\n");
        let (_, again, _) = said(&anglestop(fleet, &["--file", &file]));
        assert_eq!(again, "0 results recorded.\n2 were there already, unchanged.\n");
        assert_eq!(stage.count("results"), 2);
        let exported = Command::new(env!("CARGO_BIN_EXE_anglestop"))
            .args(["--database", &fleet.url, "export", "results"])
            .output()
            .unwrap();
        let exported = write("exported.csv", &String::from_utf8(exported.stdout).unwrap());
        let (code, out, err) = said(&anglestop(fleet, &["--file", &exported]));
        assert_eq!(code, Some(0), "{err}");
        assert!(
            out.starts_with("0 results recorded."),
            "an export says nothing new: {out}"
        );
    });
}
