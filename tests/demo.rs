//! The demo as its command makes it: the same arguments give the same fleet, any size within the range.

use std::path::Path;
use std::process::{Command, Output};

fn anglestop(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(words)
        .output()
        .unwrap()
}

fn demo(folder: &Path, units: &str, seed: &str) -> Output {
    let folder = folder.to_str().unwrap();
    anglestop(&[
        "demo",
        "--dir",
        folder,
        "--units",
        units,
        "--seed",
        seed,
        "--as-of",
        "2026-11-25",
        "--no-serve",
    ])
}

fn exported(folder: &Path, words: &[&str]) -> String {
    let url = format!("sqlite://{}/anglestop.db", folder.display());
    let output = anglestop(&[&["--database", url.as_str(), "export"], words].concat());
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn the_same_arguments_give_the_same_fleet_and_another_seed_another() {
    let folders = [(); 3].map(|()| tempfile::tempdir().unwrap());
    for (folder, seed) in folders.iter().zip(["5", "5", "6"]) {
        let made = demo(folder.path(), "30", seed);
        assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    }
    let [one, same, other] = &folders;
    for words in [
        &["fleet"][..],
        &["schedules"],
        &["results"],
        &["condition", "--building", "ALDER-HOUSE", "--as-of", "2026-11-25"],
    ] {
        let first = exported(one.path(), words);
        assert!(first.lines().count() > 10, "{words:?}: {first}");
        assert!(first == exported(same.path(), words), "{words:?}");
    }
    assert_ne!(
        exported(one.path(), &["fleet"]),
        exported(other.path(), &["fleet"])
    );
}

#[test]
fn the_smallest_demo_is_whole_and_a_smaller_one_is_refused_with_the_range() {
    let folder = tempfile::tempdir().unwrap();
    assert!(demo(folder.path(), "10", "1").status.success());
    let fleet = exported(folder.path(), &["fleet"]);
    let units: std::collections::BTreeSet<_> = csv::Reader::from_reader(fleet.as_bytes())
        .deserialize()
        .map(|row: Result<std::collections::HashMap<String, String>, _>| row.unwrap())
        .filter(|row| row["unit_kind"] == "unit")
        .map(|row| (row["building"].clone(), row["unit"].clone()))
        .collect();
    assert_eq!(units.len(), 10);
    let again = demo(folder.path(), "10", "1");
    assert_eq!(
        again.status.code(),
        Some(1),
        "a folder with a fleet is not written over"
    );
    let refused = demo(&folder.path().join("none"), "9", "1");
    assert_ne!(refused.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("10"));
}
