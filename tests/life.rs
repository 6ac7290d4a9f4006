//! Lifetimes against libraries and handbooks of others, the laws they keep, and `anglestop life` as scripts call it.

use std::process::{Command, Output};

use anglestop::domain::trade::life::fit::{End, Watched, fit, mean_bounds};
use anglestop::domain::trade::life::gamma::chi_square_quantile;
use anglestop::domain::trade::life::{Item, Weibull, best_age};
use anglestop::exchange::catalogue::years;
use proptest::prelude::*;

const CASES: &str = include_str!("oracles/life.csv");

struct Case(csv::StringRecord);

impl Case {
    fn figure(&self, column: usize) -> f64 {
        self.0[column].parse().unwrap_or_else(|_| panic!("{:?}", self.0))
    }

    fn life(&self) -> Weibull {
        Weibull::new(self.figure(2), self.figure(3)).unwrap()
    }

    /// Holds a value to the expected one, when the source gives one.
    fn holds(&self, column: usize, found: f64) {
        let Ok(expected) = self.0[column].parse::<f64>() else {
            return;
        };
        let apart = (found - expected).abs();
        let allowed = self.figure(8) * expected.abs().max(1e-12);
        assert!(apart <= allowed, "{:?}: {found}", self.0);
    }

    fn watched(&self) -> Vec<Watched> {
        let of = |column: usize, end: End| {
            self.0[column].split_whitespace().map(move |text| {
                let (from, to) = text.split_once(':').unwrap_or(("0", text));
                Watched {
                    from: from.parse().unwrap(),
                    to: to.parse().unwrap(),
                    end,
                }
            })
        };
        of(2, End::Failed).chain(of(3, End::Standing)).collect()
    }
}

fn cases(what: &str) -> Vec<Case> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(CASES.as_bytes());
    reader
        .records()
        .map(|row| Case(row.unwrap()))
        .filter(|case| &case.0[1] == what)
        .collect()
}

#[test]
fn a_survivor_of_an_age_lives_on_as_others_reckon() {
    let all = cases("residual");
    assert!(all.len() >= 20, "{}", all.len());
    for case in all {
        let (age, within) = (case.figure(4), case.figure(5));
        case.holds(6, case.life().fails_within(age, within));
        case.holds(7, case.life().mean_residual(age));
    }
}

#[test]
fn the_mean_is_that_of_the_handbook() {
    for case in cases("mean") {
        case.holds(6, case.life().mean());
    }
}

#[test]
fn the_best_age_of_replacement_is_what_others_find() {
    assert!(cases("best_age").len() >= 6);
    for case in cases("best_age") {
        let best = best_age(&case.life(), case.figure(4), case.figure(5)).unwrap();
        case.holds(6, best.age);
        case.holds(7, best.cost_rate);
        assert!(best.cost_rate < best.run_to_failure_rate);
    }
}

/// NIST/SEMATECH and the trade's case: 0.005635 an hour run to failure against 0.003462.
#[test]
fn planning_never_pays_without_wear_or_when_failing_costs_no_more() {
    let worn = Weibull::new(1000.0, 2.5).unwrap();
    let best = best_age(&worn, 5.0, 1.0).unwrap();
    assert!((best.run_to_failure_rate - 0.005_635).abs() < 1e-6);
    assert!(best_age(&Weibull::new(1000.0, 1.0).unwrap(), 5.0, 1.0).is_none());
    assert!(best_age(&Weibull::new(1000.0, 0.8).unwrap(), 5.0, 1.0).is_none());
    assert!(best_age(&worn, 1.0, 1.0).is_none());
}

#[test]
fn a_lifetime_is_fitted_as_in_the_handbook_and_by_other_libraries() {
    assert!(cases("fit").len() >= 6);
    for case in cases("fit") {
        let found = fit(&case.watched()).unwrap_or_else(|| panic!("{:?}", case.0));
        case.holds(6, found.eta());
        case.holds(7, found.beta());
    }
}

#[test]
fn one_failure_says_no_shape() {
    let one = |to: f64, end| Watched { from: 0.0, to, end };
    assert!(fit(&[]).is_none());
    assert!(fit(&[one(3.0, End::Failed), one(9.0, End::Standing)]).is_none());
    assert!(fit(&[one(3.0, End::Standing), one(9.0, End::Standing)]).is_none());
}

#[test]
fn bounds_on_a_mean_are_those_of_the_handbook() {
    for case in cases("chi2") {
        case.holds(6, chi_square_quantile(case.figure(2), case.figure(3)));
    }
    assert!(cases("bounds").len() >= 5);
    for case in cases("bounds") {
        let failures: u32 = case.0[3].parse().unwrap();
        let found = mean_bounds(case.figure(2), failures, case.figure(4));
        case.holds(6, found.lower);
        assert_eq!(found.upper.is_none(), failures == 0);
        if let Some(upper) = found.upper {
            case.holds(7, upper);
        }
    }
}

/// IBHS: mean 10.7 years, three in four failed by 12.
#[test]
fn the_water_heater_of_the_catalogue_has_the_mean_and_the_share_of_its_source() {
    let heater = Item::from_code("water_heater").unwrap();
    let life = years().unwrap().lives.of[&heater].lifetime().unwrap();
    assert!((life.mean() - 10.7).abs() < 1e-9);
    assert!((1.0 - life.survival(12.0) - 0.75).abs() < 0.01);
}

#[test]
fn every_kind_that_stands_in_the_catalogue_can_be_reckoned_with() {
    let known = years().unwrap();
    assert!(known.lives.of.len() > 30);
    for life in known.lives.of.values() {
        let lifetime = life.lifetime().unwrap();
        assert!((lifetime.mean() - life.mean_years).abs() < 1e-6, "{life:?}");
        assert!(life.replacement_minor > 0, "{life:?}");
        for source in [&life.life_source, &life.shape_source, &life.cost_source] {
            assert!(source.is_stated(), "{life:?}");
        }
    }
    assert_eq!((known.lives.ageing.len(), known.lives.remedy.len()), (5, 4));
}

proptest! {
    #[test]
    fn prop_what_remains_is_never_below_nothing(eta in 0.5_f64..80.0, beta in 0.5_f64..20.0, times in 0.0_f64..5.0) {
        let life = Weibull::new(eta, beta).unwrap();
        let remains = life.mean_residual(eta * times);
        prop_assert!(remains > 0.0 || life.cumulative_hazard(eta * times) > 1e300, "{remains}");
        prop_assert!(life.residual_quantile(eta * times, 0.5) >= 0.0);
    }

    #[test]
    fn prop_looking_further_is_never_safer(eta in 0.5_f64..80.0, beta in 0.5_f64..20.0, age in 0.0_f64..90.0, within in 0.0_f64..10.0, more in 0.0_f64..10.0) {
        let life = Weibull::new(eta, beta).unwrap();
        let (near, far) = (life.fails_within(age, within), life.fails_within(age, within + more));
        prop_assert!((0.0..=1.0).contains(&near) && near <= far, "{near} {far}");
    }

    #[test]
    fn prop_half_fail_within_the_median_that_remains(eta in 0.5_f64..80.0, beta in 0.8_f64..8.0, times in 0.0_f64..1.5) {
        let life = Weibull::new(eta, beta).unwrap();
        let age = eta * times;
        let median = life.residual_quantile(age, 0.5);
        prop_assert!((life.fails_within(age, median) - 0.5).abs() < 1e-6);
    }
}

fn residual(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["life", "residual"])
        .args(words)
        .output()
        .unwrap()
}

#[test]
fn the_terminal_says_what_remains_as_numbers() {
    let words = [
        "--eta", "12", "--beta", "3", "--age", "10", "--within", "2", "--json",
    ];
    let output = residual(&words);
    let found: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!((found["probability"].as_f64().unwrap() - 0.3438).abs() < 5e-5);
    assert!((found["mean_residual"].as_f64().unwrap() - 3.482).abs() < 5e-4);
}

#[test]
fn the_terminal_refuses_what_is_no_lifetime_with_a_sentence() {
    let cases = [
        (
            ["--eta", "0", "--beta", "3", "--age", "10", "--within", "2"],
            "characteristic life",
        ),
        (
            ["--eta", "12", "--beta", "-3", "--age", "10", "--within", "2"],
            "shape",
        ),
        (
            ["--eta", "12", "--beta", "3", "--age", "-1", "--within", "2"],
            "--age",
        ),
        (
            ["--eta", "12", "--beta", "3", "--age", "ten", "--within", "2"],
            "no figure",
        ),
        (
            ["--eta", "12", "--beta", "3", "--age", "10", "--within", "NaN"],
            "no figure",
        ),
    ];
    for (words, part) in cases {
        let output = residual(&words);
        assert_eq!(output.status.code(), Some(1), "{words:?}");
        assert!(output.stdout.is_empty());
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains(part), "{words:?}: {said}");
    }
    assert_eq!(residual(&["--eta", "12"]).status.code(), Some(2));
}
