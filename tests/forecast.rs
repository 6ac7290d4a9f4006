//! What will have to be replaced: sums equal their parts, and expectations agree with the theory of renewal.

use anglestop::domain::forecast::{Standing, forecast, renewals};
use anglestop::domain::trade::life::{Item, Weibull};
use anglestop::exchange::catalogue::years;
use proptest::prelude::*;

fn item(code: &str) -> Item {
    Item::from_code(code).unwrap()
}

/// A constant rate of 1/10 a year needs 10 x 1/10 = 1 on average in ten years, at any age (the Poisson process, Feller 1968).
#[test]
fn at_a_constant_rate_as_many_are_needed_as_the_rate_says() {
    let life = Weibull::new(10.0, 1.0).unwrap();
    for age in [0.0, 7.0, 40.0] {
        let found = renewals(&life, age, 10);
        let all: f64 = found.by_year.iter().sum();
        assert!((all - 1.0).abs() < 0.005, "{age}: {all}");
        // Poisson with mean 1: none with probability 0.3679 (tables, from memory).
        assert!((found.in_all[0] - 0.3679).abs() < 5e-4);
    }
}

/// The rate of renewals tends to one in a mean life (the elementary renewal theorem, Feller 1968).
#[test]
fn in_the_long_run_one_is_needed_in_each_mean_life() {
    let life = Weibull::with_mean(5.0, 3.0).unwrap();
    let found = renewals(&life, 0.0, 30);
    assert!((found.by_year[29] - 0.2).abs() < 0.002, "{:?}", found.by_year);
}

#[test]
fn the_chances_of_how_many_are_needed_make_up_what_is_expected() {
    let life = Weibull::with_mean(4.5, 3.0).unwrap();
    let found = renewals(&life, 3.0, 10);
    let chances: f64 = found.in_all.iter().sum();
    let mean: f64 = found.in_all.iter().enumerate().map(|(n, p)| n as f64 * p).sum();
    assert!((chances - 1.0).abs() < 1e-6, "{chances}");
    assert!((mean - found.by_year.iter().sum::<f64>()).abs() < 1e-5);
}

#[test]
fn the_first_year_is_the_chance_to_fail_at_that_age() {
    let life = Weibull::new(12.0, 3.0).unwrap();
    let found = renewals(&life, 10.0, 2);
    assert!((found.in_all[0] - (1.0 - 0.3438)).abs() < 5e-5);
}

#[test]
fn years_out_of_range_are_refused_with_the_range() {
    let lives = &years().unwrap().lives;
    for years in [0, 31] {
        assert!(forecast(&[], lives, years).unwrap_err().contains("1 to 30"));
    }
    let nothing = forecast(&[], lives, 5).unwrap();
    assert_eq!((nothing.years.len(), nothing.total.expected.cost_minor), (5, 0));
}

#[test]
fn what_has_no_life_is_counted_and_not_forecast() {
    let drain = Standing {
        item: item("floor_drain"),
        age_years: 60.0,
    };
    let found = forecast(&[drain], &years().unwrap().lives, 5).unwrap();
    assert_eq!((found.without_life, found.lines.len()), (1, 0));
}

#[test]
fn an_older_heater_costs_more_in_the_years_ahead() {
    let of = |age_years| {
        let heater = Standing {
            item: item("water_heater"),
            age_years,
        };
        let found = forecast(&[heater; 8], &years().unwrap().lives, 5).unwrap();
        found.total
    };
    let (young, old) = (of(1.0), of(11.0));
    assert!(young.expected.cost_minor < old.expected.cost_minor);
    // At an age where about half fail in time, what is expected lies well between the quantiles.
    let middle = of(6.0);
    assert!(old.low_minor <= old.median_minor && old.median_minor <= old.high_minor);
    assert!(middle.low_minor < middle.expected.cost_minor);
    assert!(middle.expected.cost_minor < middle.high_minor);
}

fn standing() -> impl Strategy<Value = Vec<Standing>> {
    let codes = [
        "water_closet",
        "water_heater",
        "flapper",
        "smoke_alarm",
        "dishwasher",
        "floor_drain",
    ];
    proptest::collection::vec((0..codes.len(), 0.0_f64..40.0), 0..12).prop_map(move |list| {
        let all = list.into_iter().map(|(code, age_years)| Standing {
            item: item(codes[code]),
            age_years,
        });
        all.collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn prop_the_sums_of_a_forecast_equal_their_parts(standing in standing(), ahead in 1_usize..11) {
        let found = forecast(&standing, &years().unwrap().lives, ahead).unwrap();
        let cost = |sum: i64, parts: Vec<i64>| sum == parts.iter().sum::<i64>();
        for (year, sum) in found.years.iter().enumerate() {
            let parts = found.lines.iter().map(|line| line.years[year].cost_minor).collect();
            prop_assert!(cost(sum.expected.cost_minor, parts));
        }
        for line in &found.lines {
            prop_assert!(cost(line.total.cost_minor, line.years.iter().map(|year| year.cost_minor).collect()));
        }
        let of_years = found.years.iter().map(|sum| sum.expected.cost_minor).collect();
        prop_assert!(cost(found.total.expected.cost_minor, of_years));
        let counted: usize = found.lines.iter().map(|line| line.standing).sum();
        prop_assert_eq!(counted + found.without_life, standing.len());
    }

    #[test]
    fn prop_one_more_never_costs_less(standing in standing(), age_years in 0.0_f64..40.0) {
        let lives = &years().unwrap().lives;
        let before = forecast(&standing, lives, 5).unwrap().total;
        let mut more = standing;
        more.push(Standing { item: item("water_closet"), age_years });
        let after = forecast(&more, lives, 5).unwrap().total;
        prop_assert!(after.expected.cost_minor >= before.expected.cost_minor);
    }
}
