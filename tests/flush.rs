//! The flush test against figures that this project did not compute, and the law that a worse reading never makes a better verdict.

use anglestop::domain::code::Coded;
use anglestop::domain::measure::Unit;
use anglestop::domain::trade::flush::{Band, Flush, Level, Limits, Run, judge};
use anglestop::domain::trade::{Answer, Verdict};
use anglestop::exchange::catalogue::builtin;
use proptest::prelude::*;

const CASES: &str = include_str!("oracles/flush.csv");

fn limits() -> Limits {
    Limits::of(builtin().unwrap()).unwrap()
}

fn refills(text: &str) -> Vec<&str> {
    if text.contains('|') {
        text.split('|').collect()
    } else {
        text.split(' ').collect()
    }
}

#[test]
fn every_case_of_the_file_has_its_flow_and_its_verdict() {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(CASES.as_bytes());
    let mut seen = 0;
    for row in reader.records().map(Result::unwrap) {
        let judged = judge(&Run::timed(&row[0], refills(&row[1])), &limits()).unwrap();
        let near = |found: f64, wanted: &str| {
            wanted.is_empty() || (found - wanted.parse::<f64>().unwrap()).abs() < 1e-4
        };
        assert!(
            near(judged.flow_gpm().unwrap(), &row[2]),
            "{row:?}: {:?}",
            judged.flow_gpm()
        );
        assert!(near(judged.expected_s.unwrap().to_f64(), &row[3]), "{row:?}");
        assert_eq!(judged.verdict.code(), &row[4], "{row:?}: {:?}", judged.reasons);
        assert_eq!(judged.grade.code(), &row[5], "{row:?}");
        seen += 1;
    }
    assert!(seen >= 20, "{seen} cases");
}

/// The check of one refill and the run fail at the same time.
#[test]
fn the_limit_of_a_run_is_the_limit_of_the_check() {
    let Answer::Reading { limits: of_check, .. } = &builtin().unwrap().check("wc_refill").unwrap().answer
    else {
        panic!("the refill is a reading");
    };
    assert_eq!(of_check[0].value, limits().slow_most.said);
}

#[test]
fn too_few_flushes_and_unreadable_times_are_refused_with_what_to_do() {
    let refusal = |tank: &str, times: &[&str]| {
        judge(&Run::timed(tank, times.iter().copied()), &limits())
            .unwrap_err()
            .to_string()
    };
    assert!(refusal("1.6", &["32", "33"]).contains("3 to 6"));
    assert!(refusal("1.6", &["32"; 7]).contains("3 to 6"));
    assert!(refusal("1.6", &["32", "soon", "33"]).starts_with("refill 2"));
    assert!(refusal("1.6", &["32", "0", "33"]).contains("took no time"));
    assert!(refusal("0", &["32", "32", "33"]).contains("holds nothing"));
    assert!(refusal("-1", &["32", "32", "33"]).contains("below zero"));
    assert!(refusal("1.6 psi", &["32", "32", "33"]).starts_with("tank"));
}

#[test]
fn what_is_seen_beside_the_watch_fails_a_run_with_its_reason() {
    let run = |change: &dyn Fn(&mut Run)| {
        let mut run = Run::timed("", ["32", "33", "34"]);
        change(&mut run);
        judge(&run, &limits()).unwrap()
    };
    assert_eq!(run(&|_| {}).verdict, Verdict::Pass);
    for (change, word) in [
        (
            (&|run: &mut Run| run.flushes[1].cleared = false) as &dyn Fn(&mut Run),
            "flush 2",
        ),
        (&|run: &mut Run| run.flushes[2].again = true, "again"),
        (&|run: &mut Run| run.runs_on = "20".to_owned(), "20 s"),
        (&|run: &mut Run| run.level = Level::Overflowing, "overflow"),
    ] {
        let judged = run(change);
        assert_eq!(judged.verdict, Verdict::Fail);
        assert!(judged.reasons[0].words.contains(word), "{:?}", judged.reasons);
    }
    let low = run(&|run: &mut Run| run.level = Level::Low);
    assert_eq!((low.verdict, low.remarks.len()), (Verdict::Pass, 1));
}

#[test]
fn an_offices_own_band_moves_the_grade_and_not_the_verdict() {
    let band = |least: &str, most: &str| {
        limits().with_band(&Band {
            least: least.to_owned(),
            most: most.to_owned(),
        })
    };
    let own = band("20", "1 min").unwrap();
    let judged = judge(&Run::timed("1.6", ["62", "62", "62"]), &own).unwrap();
    assert_eq!((judged.grade.code(), judged.verdict), ("slow", Verdict::Pass));
    assert!((own.usual_most.in_unit(Unit::Second) - 60.0).abs() < 1e-9);
    assert!(band("90", "30").is_err(), "the shorter time comes first");
    assert!(band("30", "200").is_err(), "nothing beyond the limit is usual");
}

fn any_run() -> impl Strategy<Value = Run> {
    let flush = (1_u32..400, any::<bool>(), any::<bool>()).prop_map(|(refill, cleared, again)| Flush {
        refill: format!("{refill}"),
        cleared,
        again,
    });
    (prop::collection::vec(flush, 3..=6), 0_u32..30).prop_map(|(flushes, runs_on)| Run {
        tank: "1.6".to_owned(),
        flushes,
        runs_on: if runs_on < 15 {
            String::new()
        } else {
            runs_on.to_string()
        },
        level: Level::NotLooked,
    })
}

proptest! {
    /// Longer refills, a flush less that clears, one more that runs again: none of it turns a fail into a pass.
    #[test]
    fn prop_a_worse_run_never_gets_a_better_verdict(run in any_run(), at in 0_usize..6, more in 0_u32..300, cleared: bool, again: bool) {
        let before = judge(&run, &limits()).unwrap();
        let mut worse = run.clone();
        let at = at % worse.flushes.len();
        let flush = &mut worse.flushes[at];
        flush.refill = (flush.refill.parse::<u32>().unwrap() + more).to_string();
        flush.cleared &= cleared;
        flush.again |= again;
        let after = judge(&worse, &limits()).unwrap();
        prop_assert!(before.verdict == Verdict::Pass || after.verdict == Verdict::Fail);
        prop_assert!(after.reasons.len() >= before.reasons.len());
        prop_assert!(after.grade >= before.grade);
    }
}
