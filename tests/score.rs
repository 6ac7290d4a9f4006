//! The federal deduction method against its publication, the facility condition index against others, and `anglestop score` as scripts
//! call it.

use std::process::{Command, Output};

use anglestop::domain::code::Coded;
use anglestop::domain::condition::index::{Bands, Index};
use anglestop::domain::condition::score::{Area, Defect, Method, method_on, score};
use anglestop::domain::trade::Severity;
use anglestop::exchange::catalogue::{builtin, years};
use proptest::prelude::*;

const CASES: &str = include_str!("oracles/score.csv");
const INDICES: &str = include_str!("oracles/index.csv");

fn rows(text: &str) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    reader.records().map(Result::unwrap).collect()
}

fn found(text: &str) -> Vec<Defect> {
    let mut defects = Vec::new();
    for part in text.split(';').filter(|part| !part.is_empty()) {
        let words: Vec<&str> = part.split_whitespace().collect();
        let area = Area::from_code(words[0]).unwrap();
        let severity = Severity::from_code(words[1]).unwrap();
        for number in 0..words[2].parse::<usize>().unwrap() {
            let name = format!("{severity} {number}");
            defects.push(Defect::new(area, &name, &name, severity));
        }
    }
    defects
}

fn near(found: f64, text: &str) -> bool {
    (found - text.parse::<f64>().unwrap()).abs() < 1e-9
}

#[test]
fn every_case_of_the_file_scores_as_published() {
    let rows = rows(CASES);
    assert!(rows.len() >= 20);
    for row in rows {
        let scored = score(&Method::published(), &found(&row[0]), row[1].parse().unwrap()).unwrap();
        let holds = near(scored.score, &row[2])
            && near(scored.unit_loss, &row[3])
            && near(scored.reported, &row[4])
            && scored.passes.to_string() == row[5];
        assert!(holds, "{row:?}: {scored:?}");
    }
}

#[test]
fn the_method_of_the_catalogue_is_the_published_one() {
    let known = years().unwrap();
    let mut of_file = known.methods[0].clone();
    of_file.source = Method::published().source;
    assert_eq!(of_file, Method::published());
    let day = |text: &str| text.parse().unwrap();
    assert_eq!(
        method_on(&known.methods, day("2020-01-01")).unwrap().valid_from,
        day("2023-07-07")
    );
}

#[test]
fn one_deficiency_counts_once_a_unit_once_inside_a_building_and_once_outside() {
    let one = |area, place: &str, severity| Defect::new(area, place, "leak_water", severity);
    let defects = [
        one(Area::Unit, "101", Severity::Low),
        one(Area::Unit, "101", Severity::Moderate),
        one(Area::Unit, "102", Severity::Moderate),
        one(Area::Inside, "ALDER", Severity::Moderate),
        one(Area::Inside, "ALDER", Severity::Moderate),
        one(Area::Outside, "yard", Severity::Low),
        one(Area::Outside, "street", Severity::Low),
    ];
    let scored = score(&Method::published(), &defects, 10).unwrap();
    // 2 x 5.5 in units, 5.0 inside, 2.0 outside: the graver of the same counts.
    assert!((scored.score - (100.0 - 1.8)).abs() < 1e-9, "{scored:?}");
    assert_eq!(scored.repeats, 3);
}

#[test]
fn no_unit_inspected_is_no_score() {
    let refusal = score(&Method::published(), &[], 0).unwrap_err();
    assert!(refusal.contains("No unit was inspected"), "{refusal}");
}

/// HUD NSPIRE: alarms are never scored; GFCI counts from 1 October 2026.
#[test]
fn alarms_never_count_and_an_outlet_from_its_day_on() {
    let known = years().unwrap();
    let day = |text: &str| text.parse().unwrap();
    assert!(known.scored_on("smoke_alarm_sounds", day("2026-11-25")).is_none());
    assert!(known.unscored.contains_key("co_alarm_sounds"));
    assert!(known.scored_on("gfci_trips", day("2026-09-30")).is_none());
    assert!(known.scored_on("gfci_trips", day("2026-10-01")).is_some());
    for code in known.scored.keys().chain(known.unscored.keys()) {
        assert!(builtin().unwrap().check(code).is_some(), "no check {code}");
        assert!(
            !(known.scored.contains_key(code) && known.unscored.contains_key(code)),
            "{code}"
        );
    }
}

#[test]
fn the_index_and_its_bands_are_those_of_others() {
    let bands = years().unwrap().bands.0;
    assert_eq!(bands, Bands::new(50, 100, 300).unwrap());
    for row in rows(INDICES) {
        let minor = |text: &str| (text.parse::<f64>().unwrap() * 100.0).round() as i64;
        let index = Index::new(minor(&row[0]), minor(&row[1])).unwrap();
        assert!(near(index.ratio(), &row[2]), "{row:?}");
        assert_eq!(index.band(&bands).code(), &row[3], "{row:?}");
    }
    assert!(Index::new(5, 0).is_none());
    assert!(Bands::new(100, 50, 300).is_err());
}

fn some_defect() -> impl Strategy<Value = Defect> {
    (0..3_usize, 0..6_u8, 0..4_u8, 0..4_usize).prop_map(|(area, place, deficiency, severity)| {
        let (area, severity) = (Area::ALL[area], Severity::ALL[severity]);
        Defect::new(area, &place.to_string(), &deficiency.to_string(), severity)
    })
}

proptest! {
    #[test]
    fn prop_the_score_never_rises_when_a_deficiency_is_added(
        defects in proptest::collection::vec(some_defect(), 0..40), one in some_defect(), units in 1_u32..60
    ) {
        let before = score(&Method::published(), &defects, units).unwrap();
        let mut more = defects;
        more.push(one);
        let after = score(&Method::published(), &more, units).unwrap();
        prop_assert!(after.score <= before.score && after.reported <= before.reported);
        prop_assert!(after.unit_loss >= before.unit_loss && (before.passes || !after.passes));
    }

    #[test]
    fn prop_the_order_of_deficiencies_does_not_matter(
        defects in proptest::collection::vec(some_defect(), 0..20), units in 1_u32..60
    ) {
        let forward = score(&Method::published(), &defects, units).unwrap();
        let mut backward = defects;
        backward.reverse();
        prop_assert_eq!(forward, score(&Method::published(), &backward, units).unwrap());
    }
}

fn command(text: &str, units: &str, more: &[&str]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("found.csv");
    std::fs::write(&file, text).unwrap();
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["score", "--deficiencies"])
        .arg(&file)
        .args(["--units-inspected", units])
        .args(more)
        .output()
        .unwrap()
}

#[test]
fn the_terminal_scores_a_file_as_numbers() {
    let mut text = "severity,place,area,deficiency\n".to_owned();
    for unit in 1..=13 {
        text.push_str(&format!("life_threatening,{unit},unit,wc_flushes\n"));
    }
    let output = command(&text, "25", &["--json"]);
    let found: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(found["reported"].as_f64(), Some(59.0));
    assert_eq!(found["unit_loss"].as_f64(), Some(31.2));
    assert_eq!(found["score"].as_f64(), Some(68.8));
    assert_eq!(found["passes"].as_bool(), Some(false));
}

#[test]
fn the_terminal_names_every_bad_row_and_prints_no_score() {
    let text = "area,place,deficiency,severity\nroof,1,leak,low\nunit,,leak,low\nunit,2,,grave\n";
    let output = command(text, "25", &["--json"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    for part in ["line 2", "“roof”", "line 3", "no place", "line 4", "“grave”"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let good = "area,place,deficiency,severity\nunit,1,leak,low\n";
    for units in ["0", "-3", "2.5", "many"] {
        assert_eq!(command(good, units, &[]).status.code(), Some(1), "{units}");
    }
    let missing = command("area,place,severity\n", "3", &[]);
    assert!(
        String::from_utf8(missing.stderr)
            .unwrap()
            .contains("deficiency is missing")
    );
}
