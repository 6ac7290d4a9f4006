//! The trend of readings against scipy, pymannkendall and a printed table, and that steady readings seldom alarm.

use anglestop::domain::trade::drift::{Band, Reading, drift, trend};
use chrono::{Days, NaiveDate};
use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};

const CASES: &str = include_str!("oracles/trend.csv");
const BAND: Band = Band {
    least: 30.0,
    most: 90.0,
};

fn readings(values: &[f64], apart_days: u64) -> Vec<Reading> {
    let first: NaiveDate = "2024-01-01".parse().unwrap();
    values
        .iter()
        .zip(0..)
        .map(|(value, step)| Reading {
            day: first + Days::new(step * apart_days),
            value: *value,
        })
        .collect()
}

#[test]
fn every_case_of_the_file_has_its_chance_and_its_slope() {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(CASES.as_bytes());
    let mut seen = 0;
    for row in reader.records().map(Result::unwrap) {
        let values: Vec<f64> = row[1].split(' ').map(|value| value.parse().unwrap()).collect();
        let (wanted, within): (f64, f64) = (row[2].parse().unwrap(), row[3].parse().unwrap());
        let found = trend(&values);
        assert!(
            (found.p - wanted).abs() <= within,
            "{}: {} for {wanted}",
            &row[0],
            found.p
        );
        if let Ok(slope) = row[4].parse::<f64>() {
            // The slope is told whatever the chance when every chance is taken.
            let told = drift(&readings(&values, 1), BAND, 6, 2.0).unwrap();
            assert!(
                (told.slope_a_day - slope).abs() < 1e-9,
                "{}: {}",
                &row[0],
                told.slope_a_day
            );
        }
        seen += 1;
    }
    assert!(seen >= 40, "{seen} cases");
}

/// Of a thousand series of steady readings at most fifty may alarm: that is what a test at 5 % promises.
#[test]
fn steady_readings_alarm_in_at_most_five_of_a_hundred_series() {
    let mut chance = SmallRng::seed_from_u64(20_261_125);
    let mut alarms = 0;
    for series in 0..1_000_usize {
        let values: Vec<f64> = (0..6 + series % 10)
            .map(|_| 55.0 + (0..6).map(|_| chance.random_range(-3.0..3.0)).sum::<f64>())
            .collect();
        alarms += usize::from(drift(&readings(&values, 90), BAND, 6, 0.05).is_some());
    }
    eprintln!("{alarms} of 1,000 steady series alarmed");
    assert!(alarms <= 50, "{alarms} of 1,000");
}

#[test]
fn a_steady_rise_leaves_the_band_on_the_day_the_line_crosses_it() {
    let rising = readings(&[60.0, 62.0, 64.0, 66.0, 68.0, 70.0], 10);
    let found = drift(&rising, BAND, 6, 0.05).unwrap();
    assert!((found.slope_a_day - 0.2).abs() < 1e-12);
    // 70 s on 20 February 2024, 20 s below the edge at 0.2 s a day: a hundred days on.
    assert_eq!(found.leaves_on, Some("2024-05-30".parse().unwrap()));
    let falling = readings(&[60.0, 58.0, 56.0, 54.0, 52.0, 50.0], 10);
    let found = drift(&falling, BAND, 6, 0.05).unwrap();
    assert_eq!(found.leaves_on, Some("2024-05-30".parse().unwrap()));
}

#[test]
fn five_readings_tell_no_trend_and_a_line_outside_the_band_has_no_day() {
    assert!(drift(&readings(&[60.0, 62.0, 64.0, 66.0, 68.0], 10), BAND, 6, 0.05).is_none());
    let outside = readings(&[91.0, 93.0, 95.0, 97.0, 99.0, 101.0], 10);
    assert_eq!(drift(&outside, BAND, 6, 0.05).unwrap().leaves_on, None);
    let slow = readings(&[60.0, 60.01, 60.02, 60.03, 60.04, 60.05], 365);
    assert_eq!(
        drift(&slow, BAND, 6, 0.05).unwrap().leaves_on,
        None,
        "beyond ten years"
    );
}
