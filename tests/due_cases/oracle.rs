//! The independent script `oracles/due.py` (python-dateutil): it agrees with the table of cases, reads
//! exported files, and notices when a single row was altered.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::{Value, json};

use super::CASES;

const FLEET: &str = "\
building,time_zone,joined_on,unit,spread_ppm,tag,kind,installed_on,parts,last_done:wc_firm,last_done:line_sound:supply_line_cold
HARBOR,America/New_York,2024-01-15,1A,250000,1A-WC,water_closet,2012-06-01,wax_seal=2020-05-01;supply_line_cold=2025-03-02,,2024-02-01
HARBOR,America/New_York,2024-01-15,1B,750000,1B-WC,water_closet,2023-11-20,wax_seal,2023-09-10,
HARBOR,America/New_York,2024-01-15,1C,500000,,,,,,
";

const SCHEDULES: &str = "\
schedule,check,check_kinds,check_parts,anchor,rule,start,lead_days,grace_days,early_days,scope_kinds,scope_parts,scope_buildings,scope_tags,scope_min_age_years,scope_max_age_years,active
autumn,wc_firm,water_closet,,calendar,FREQ=YEARLY,2023-10-01,30,14,182,,,,,,,true
old_seats,wc_firm,water_closet,,last_done,P6M,,14,14,14,,,,,10,,true
lines,line_sound,,supply_line_hot supply_line_cold,last_done,P1Y,,30,30,30,water_closet,,HARBOR,,,,true
never,wc_firm,,,last_done,P1M,,1,1,1,,,,,,,false
";

/// The first is at 23:30 on 20 August in New York, which is the 21st in UTC; the last is after the day asked about.
const RESULTS: &str = "\
building,unit,tag,part,check,outcome,done_at,done_on
HARBOR,1A,1A-WC,,wc_firm,fail,2025-08-21T03:30:00Z,2025-08-20
HARBOR,1B,1B-WC,,wc_firm,not_checked,2025-09-15T14:00:00Z,2025-09-15
HARBOR,1B,1B-WC,,wc_firm,pass,2025-11-02T14:00:00Z,2025-11-02
";

const AS_OF: &str = "2025-10-20";

/// Worked by hand from the files above.
fn due_list() -> Value {
    json!([
        // 1A is over ten years old, so the half-yearly schedule takes it too: 20 August and six months. The yearly one
        // was satisfied early (20 August is within 182 days of 1 October), so it is due in 2026 and comes second.
        {"building": "HARBOR", "unit": "1A", "fixture": "1A-WC", "part": null, "check": "wc_firm",
         "schedule": "old_seats", "anchor": "last_done", "rule": "P6M", "start": null,
         "lead_days": 14, "grace_days": 14, "early_days": 14, "basis": "done", "counts_from": "2025-08-20",
         "opens": "2026-02-06", "due": "2026-02-20", "last_day": "2026-03-06",
         "state": "later", "days_overdue": 0, "missed": 0},
        // The cold line was installed while the building was in the register, after the imported day.
        {"building": "HARBOR", "unit": "1A", "fixture": "1A-WC", "part": "supply_line_cold", "check": "line_sound",
         "schedule": "lines", "anchor": "last_done", "rule": "P1Y", "start": null,
         "lead_days": 30, "grace_days": 30, "early_days": 30, "basis": "installed", "counts_from": "2025-03-02",
         "opens": "2026-01-31", "due": "2026-03-02", "last_day": "2026-04-01",
         "state": "later", "days_overdue": 0, "missed": 0},
        // 1B: "not checked" satisfies nothing and the pass comes after the day asked about, so the imported day counts;
        // it satisfied October 2023, so the one of 2024 was missed, and the one of 2025 is past its grace too.
        {"building": "HARBOR", "unit": "1B", "fixture": "1B-WC", "part": null, "check": "wc_firm",
         "schedule": "autumn", "anchor": "calendar", "rule": "FREQ=YEARLY", "start": "2023-10-01",
         "lead_days": 30, "grace_days": 14, "early_days": 182, "basis": "imported", "counts_from": "2023-09-10",
         "opens": "2024-09-01", "due": "2024-10-01", "last_day": "2024-10-15",
         "state": "overdue", "days_overdue": 370, "missed": 2},
    ])
}

fn python(arguments: &[&str]) -> Output {
    let python = std::env::var("ANGLESTOP_TEST_PYTHON").unwrap_or_else(|_| "/usr/bin/python3".to_owned());
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/oracles/due.py");
    let run = Command::new(&python).arg(script).args(arguments).output();
    run.unwrap_or_else(|error| panic!("{python} does not run ({error}); ./ops/check installs it"))
}

/// The exit code and what was printed on both streams.
fn told(output: &Output) -> (Option<i32>, String) {
    let both = [output.stdout.as_slice(), output.stderr.as_slice()].concat();
    (output.status.code(), String::from_utf8(both).unwrap())
}

fn compare(fleet: &str, schedules: &str, results: &str, due: &Value) -> (Option<i32>, String) {
    let room = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| -> PathBuf {
        let path = room.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let files = [
        write("fleet.csv", fleet),
        write("schedules.csv", schedules),
        write("results.csv", results),
        write("due.json", &due.to_string()),
    ];
    let paths: Vec<_> = files.iter().map(|path| path.to_str().unwrap()).collect();
    told(&python(&[&["--as-of", AS_OF], paths.as_slice()].concat()))
}

#[test]
fn the_independent_script_agrees_with_the_table_of_cases() {
    let table = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/due_cases.csv");
    let (code, told) = told(&python(&["--cases", table.to_str().unwrap()]));
    assert_eq!(code, Some(0), "{told}");
}

#[test]
fn the_independent_script_notices_an_altered_case() {
    let altered = CASES.replacen(",2027-10-01,", ",2027-10-02,", 1);
    assert_ne!(altered, CASES);
    let room = tempfile::tempdir().unwrap();
    let table = room.path().join("cases.csv");
    std::fs::write(&table, altered).unwrap();
    let (code, told) = told(&python(&["--cases", table.to_str().unwrap()]));
    assert_eq!(code, Some(1), "{told}");
    assert!(told.contains("2027-10-02, recomputed 2027-10-01"), "{told}");
}

#[test]
fn the_independent_script_recomputes_a_list_worked_by_hand() {
    let (code, told) = compare(FLEET, SCHEDULES, RESULTS, &due_list());
    assert_eq!(code, Some(0), "{told}");
    assert!(told.contains("3 due items: no difference"), "{told}");
}

#[test]
fn the_independent_script_notices_any_altered_row() {
    let told_of = |fleet: &str, schedules: &str, results: &str, due: &Value| {
        let (code, told) = compare(fleet, schedules, results, due);
        assert_eq!(code, Some(1), "{told}");
        told
    };
    let mut later = due_list();
    later[0]["due"] = json!("2026-02-21");
    let told = told_of(FLEET, SCHEDULES, RESULTS, &later);
    assert!(
        told.contains("HARBOR / 1A / 1A-WC / wc_firm: due is 2026-02-21, recomputed 2026-02-20"),
        "{told}"
    );

    let mut shorter = due_list();
    shorter.as_array_mut().unwrap().pop();
    assert!(told_of(FLEET, SCHEDULES, RESULTS, &shorter).contains("is not in the list"));

    let not_done = RESULTS.replace(",fail,", ",not_checked,");
    assert!(told_of(FLEET, SCHEDULES, &not_done, &due_list()).contains("basis is done, recomputed joined"));

    let moved = FLEET.replace("2023-09-10", "2023-03-10");
    assert!(told_of(&moved, SCHEDULES, RESULTS, &due_list()).contains("1B-WC"));

    let stopped = SCHEDULES.replace(
        "scope_max_age_years,active\nautumn",
        "scope_max_age_years,active\nautumns",
    );
    assert!(
        told_of(FLEET, &stopped, RESULTS, &due_list()).contains("schedule is autumn, recomputed autumns")
    );
}

#[test]
fn the_independent_script_refuses_a_result_whose_local_day_is_wrong() {
    let utc_day = RESULTS.replace(
        "2025-08-21T03:30:00Z,2025-08-20",
        "2025-08-21T03:30:00Z,2025-08-21",
    );
    let (code, told) = compare(FLEET, SCHEDULES, &utc_day, &due_list());
    assert_eq!(code, Some(2), "{told}");
    assert!(told.contains("is 2025-08-20 in the zone of HARBOR"), "{told}");
}
