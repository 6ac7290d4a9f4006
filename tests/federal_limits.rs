//! Limits of flow, pressure and temperature against the publications that set them.

use anglestop::domain::code::Coded;
use anglestop::domain::measure::LengthUnit;
use anglestop::domain::trade::outcome;
use anglestop::domain::trade::outcome::Context;
use anglestop::exchange::catalogue::builtin;

const CASES: &str = include_str!("oracles/federal_limits.csv");

#[test]
fn every_case_at_below_and_above_a_published_limit_has_its_verdict() {
    let context = Context {
        profile: "ipc".parse().unwrap(),
        length_unit: LengthUnit::Inch,
    };
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(CASES.as_bytes());
    let mut seen = 0;
    for row in reader.records().map(Result::unwrap) {
        let check = builtin()
            .unwrap()
            .check(&row[0])
            .unwrap_or_else(|| panic!("no check {}", &row[0]));
        let found = outcome(check, &row[1], &context).unwrap();
        assert_eq!(found.verdict.code(), &row[2], "{row:?}: {}", found.reason);
        seen += 1;
    }
    assert!(seen >= 20, "{seen} cases");
}
