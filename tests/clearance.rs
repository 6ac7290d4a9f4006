//! Clearances of a water closet against the cited sections, and against a case file that this project did not compute.

use std::collections::BTreeSet;

use anglestop::domain::code::Coded;
use anglestop::domain::measure::{Length, LengthUnit};
use anglestop::domain::trade::clearance::{Clearance, Dimension, Measured};
use anglestop::domain::trade::outcome::Context;
use anglestop::domain::trade::{ProfileCode, Verdict, outcome};
use anglestop::exchange::catalogue::builtin;
use proptest::prelude::*;

const CASES: &str = include_str!("oracles/clearance.csv");

fn length(text: &str) -> Length {
    Length::parse(text, LengthUnit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

fn judge(profile: &str, measured: &Measured) -> Clearance {
    let code: ProfileCode = profile.parse().unwrap();
    builtin()
        .unwrap()
        .profile(&code)
        .unwrap()
        .judge(measured)
        .unwrap()
}

fn rows() -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(CASES.as_bytes());
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert!(rows.len() >= 35, "the case file has {} rows", rows.len());
    rows
}

fn measured(row: &csv::StringRecord) -> Measured {
    let at = |column: usize| row.get(column).filter(|text| !text.is_empty()).map(length);
    Measured {
        left: at(1),
        right: at(2),
        front: at(3),
        centre_to_centre: at(4),
        seat_height: at(5),
        width: at(6),
        depth: at(7),
    }
}

#[test]
fn every_case_of_the_file_has_its_verdict_and_its_shortfalls() {
    for row in rows() {
        let found = judge(&row[0], &measured(&row));
        let expected: Vec<(String, Length)> = row[9]
            .split(';')
            .filter(|text| !text.is_empty())
            .map(|text| {
                let (dimension, amount) = text.split_once(' ').unwrap();
                (dimension.to_owned(), length(amount))
            })
            .collect();
        let shortfalls: Vec<(String, Length)> = found
            .findings
            .iter()
            .map(|finding| (finding.rule.dimension.code().to_owned(), finding.short_by))
            .collect();
        assert_eq!(found.verdict.code(), &row[8], "{row:?}");
        assert_eq!(shortfalls, expected, "{row:?}");
    }
}

#[test]
fn every_rule_of_every_profile_has_a_case_that_breaks_it_and_one_at_its_limit() {
    let mut broken = BTreeSet::new();
    let mut at_limit = BTreeSet::new();
    for row in rows() {
        let values = measured(&row);
        for finding in judge(&row[0], &values).findings {
            broken.insert((row[0].to_owned(), finding.rule.dimension, finding.rule.bound));
        }
        let code: ProfileCode = row[0].parse().unwrap();
        for rule in &builtin().unwrap().profile(&code).unwrap().rules {
            let limit = rule.length().unwrap();
            let value = match rule.dimension {
                Dimension::Left => values.left,
                Dimension::Right => values.right,
                Dimension::NearSide => values.left.min(values.right),
                Dimension::Front => values.front,
                Dimension::CentreToCentre => values.centre_to_centre,
                Dimension::SeatHeight => values.seat_height,
                Dimension::Width => values.width,
                Dimension::Depth => values.depth,
            };
            if value == Some(limit) {
                at_limit.insert((row[0].to_owned(), rule.dimension, rule.bound));
            }
        }
    }
    for profile in &builtin().unwrap().profiles {
        for rule in &profile.rules {
            let key = (profile.code.to_string(), rule.dimension, rule.bound);
            assert!(broken.contains(&key), "no case breaks {key:?}");
            assert!(at_limit.contains(&key), "no case stands at {key:?}");
        }
    }
}

#[test]
fn the_built_in_profiles_are_those_a_building_can_name() {
    let codes: Vec<&str> = builtin()
        .unwrap()
        .profiles
        .iter()
        .map(|profile| profile.code.as_str())
        .collect();
    assert_eq!(codes, ProfileCode::BUILT_IN);
}

#[test]
fn what_was_not_measured_is_named_and_not_judged() {
    let found = judge(
        "ada",
        &Measured {
            left: Some(length("17 in")),
            ..Measured::default()
        },
    );
    assert_eq!(found.verdict, Verdict::Pass);
    assert_eq!(
        found.not_measured,
        [Dimension::SeatHeight, Dimension::Width, Dimension::Depth]
    );
}

#[test]
fn nothing_measured_is_no_pass() {
    let found = judge("ipc", &Measured::default());
    assert!(!found.is_answered());
    assert!(
        judge(
            "ipc",
            &Measured {
                front: Some(length("21 in")),
                ..Measured::default()
            }
        )
        .is_answered()
    );
}

/// The two clearance checks take their limits from the profiles: same values, same sources.
#[test]
fn the_clearance_checks_answer_as_the_profiles_do() {
    let catalogue = builtin().unwrap();
    let side = catalogue.check("wc_clearance_side").unwrap();
    let front = catalogue.check("wc_clearance_front").unwrap();
    let cases = [
        // profile, side, verdict, front, verdict: IPC 405.3.1, UPC 402.5, ADA 604.2 as in the case file.
        ("ipc", "15", "pass", "21", "pass"),
        ("ipc", "14 15/16", "fail", "20 15/16", "fail"),
        ("upc", "15", "pass", "24", "pass"),
        ("upc", "14 15/16", "fail", "21", "fail"),
        ("ada", "16", "pass", "21", "pass"),
        ("ada", "18", "pass", "21", "pass"),
        ("ada", "18 1/4", "fail", "21", "pass"),
        ("ada", "15", "fail", "21", "pass"),
    ];
    for (profile, side_text, side_verdict, front_text, front_verdict) in cases {
        let context = Context {
            profile: profile.parse().unwrap(),
            length_unit: LengthUnit::Inch,
        };
        let found = outcome(side, side_text, &context).unwrap();
        assert_eq!(
            found.verdict.code(),
            side_verdict,
            "{profile} side {side_text}: {}",
            found.reason
        );
        let found = outcome(front, front_text, &context).unwrap();
        assert_eq!(
            found.verdict.code(),
            front_verdict,
            "{profile} front {front_text}: {}",
            found.reason
        );
    }
}

proptest! {
    /// Under a rule of "at least", less room never makes a better verdict.
    #[test]
    fn prop_less_room_never_passes_where_more_failed(front in 0_i32..800, less in 0_i32..100) {
        let of = |sixteenths: i32| judge("upc", &Measured {
            front: Some(Length::from_sixteenths(sixteenths)),
            ..Measured::default()
        });
        let (more, less) = (of(front), of(front - less.min(front)));
        prop_assert!(more.verdict == Verdict::Pass || less.verdict == Verdict::Fail);
        if let (Some(more), Some(less)) = (more.findings.first(), less.findings.first()) {
            prop_assert!(less.short_by >= more.short_by);
        }
    }
}
