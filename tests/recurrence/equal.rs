//! Equal to the outside, and to a plain reading, over thousands of random rules.

use std::time::{SystemTime, UNIX_EPOCH};

use anglestop::domain::recurrence::{Rule, RuleError};
use chrono::{Days, NaiveDate};

use super::day;
use super::naive::Naive;
use super::outside::compare;
use super::outside::exemptions::has;
use super::outside::generator::Generator;

const RULES: usize = 20_000;

/// Another seed every run finds what one seed never would; `ANGLESTOP_TEST_SEED` repeats a run.
fn seed() -> u64 {
    let given = std::env::var("ANGLESTOP_TEST_SEED")
        .ok()
        .and_then(|text| text.parse().ok());
    given.unwrap_or_else(|| {
        SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .unwrap()
            .subsec_nanos()
            .into()
    })
}

#[test]
fn python_dateutil_and_the_crate_find_the_same_days_for_20_000_random_rules() {
    let report = compare(RULES, seed());
    println!("{report}");
    let shown = report
        .differences
        .iter()
        .take(10)
        .cloned()
        .collect::<Vec<_>>()
        .join("\n");
    assert!(report.differences.is_empty(), "{report}{shown}");
    assert!(report.exempt * 50 <= RULES, "more than 2 % are exempt: {report}");
    assert!(report.agreed_both * 10 >= RULES * 8, "most rules occur: {report}");
}

/// Every rule, in a window near the start and in one up to three centuries later.
#[test]
fn a_day_by_day_reading_finds_the_same_days_near_and_far() {
    let seed = seed();
    let mut generator = Generator::new(seed);
    let (mut compared, mut never) = (0, 0);
    for _ in 0..4_000 {
        let mut case = generator.case();
        let endless: Vec<&str> = case
            .text
            .split(';')
            .filter(|part| !part.starts_with("COUNT") && !part.starts_with("UNTIL"))
            .collect();
        case.text = endless.join(";");
        let naive = Naive::new(&case);
        let far = case.start + Days::new(((case.later - case.start).num_days() * 90) as u64);
        let windows = [case.start, case.later, far].map(|from| (from, from + Days::new(400)));
        let plainly = windows.map(|(from, to)| {
            from.iter_days()
                .take_while(|day| *day <= to)
                .filter(|day| naive.falls_on(*day))
                .collect::<Vec<NaiveDate>>()
        });
        match Rule::parse(&case.text, case.start) {
            Ok(rule) => {
                compared += 1;
                for ((from, to), expected) in windows.into_iter().zip(plainly) {
                    assert_eq!(
                        rule.between(from, to),
                        expected,
                        "seed {seed}: {} from {}",
                        case.text,
                        case.start
                    );
                    let mut backward = Vec::new();
                    let mut at = to + Days::new(1);
                    while let Some(previous) = rule.previous_before(at).filter(|day| *day >= from) {
                        backward.insert(0, previous);
                        at = previous;
                    }
                    assert_eq!(
                        backward, expected,
                        "backward, seed {seed}: {} from {}",
                        case.text, case.start
                    );
                    assert_eq!(
                        rule.count_between(from, to),
                        expected.len(),
                        "seed {seed}: {} from {}",
                        case.text,
                        case.start
                    );
                }
            }
            Err(RuleError::NeverOccurs { .. }) => {
                never += 1;
                assert!(
                    plainly.iter().all(Vec::is_empty),
                    "seed {seed}: {} from {} occurs",
                    case.text,
                    case.start
                );
            }
            Err(refusal) => assert!(matches!(refusal, RuleError::MixedDays { .. }), "{refusal}"),
        }
    }
    println!("seed {seed}: {compared} rules equal in three windows, {never} never occur");
    assert!(compared > 3_000);
}

/// RFC 7529's SKIP over every month, against chrono's own idea of which days exist.
#[test]
fn skip_moves_to_the_neighbour_of_a_missing_day_in_every_month() {
    for (month_day, interval) in [(29, 1), (30, 1), (31, 1), (31, 5), (30, 7)] {
        for (word, back) in [("BACKWARD", true), ("FORWARD", false)] {
            let text = format!(
                "RSCALE=GREGORIAN;FREQ=MONTHLY;INTERVAL={interval};BYMONTHDAY={month_day};SKIP={word}"
            );
            let rule = Rule::parse(&text, day("2023-01-15")).unwrap();
            let months = (0..)
                .step_by(interval)
                .map(|month| day("2023-01-01") + chrono::Months::new(month));
            let expected: Vec<NaiveDate> = months
                .take_while(|first| *first < day("2120-01-01"))
                .map(|first| {
                    let next = first + chrono::Months::new(1);
                    let moved = if back { next.pred_opt().unwrap() } else { next };
                    chrono::Datelike::with_day(&first, month_day).unwrap_or(moved)
                })
                .collect();
            let last = *expected.last().unwrap();
            assert_eq!(rule.between(day("2023-01-01"), last), expected, "{text}");
            assert_eq!(rule.count_between(day("2023-01-01"), last), expected.len());
            for pair in expected.windows(2) {
                assert_eq!(rule.previous_before(pair[1]), Some(pair[0]), "{text}");
            }
        }
    }
}

/// Every part appears, so that the comparison above is not of plain rules alone.
#[test]
fn random_rules_use_every_part() {
    let mut generator = Generator::new(seed());
    let cases: Vec<_> = (0..2_000).map(|_| generator.case()).collect();
    for part in [
        "INTERVAL",
        "COUNT",
        "UNTIL",
        "WKST",
        "BYMONTH",
        "BYWEEKNO",
        "BYYEARDAY",
        "BYMONTHDAY",
        "BYDAY",
        "BYSETPOS",
    ] {
        assert!(
            cases.iter().filter(|case| has(case, part)).count() > 30,
            "{part} is rare"
        );
    }
}
