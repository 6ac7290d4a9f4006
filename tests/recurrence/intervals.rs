//! Intervals counted from the last time.

use anglestop::domain::recurrence::Interval;
use chrono::{Days, Months, NaiveDate};

use super::day;

fn interval(text: &str) -> Interval {
    text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
}

#[test]
fn months_and_years_end_on_the_month_s_last_day() {
    let cases = [
        ("P6M", "2026-08-31", "2027-02-28"),
        ("P6M", "2027-08-31", "2028-02-29"),
        ("P1M", "2026-01-31", "2026-02-28"),
        ("P1M", "2026-02-28", "2026-03-28"), // counts on from the 28th, unlike a rule on the 31st
        ("P3M", "2026-11-30", "2027-02-28"),
        ("P1Y", "2024-02-29", "2025-02-28"),
        ("P4Y", "2024-02-29", "2028-02-29"),
        ("P1Y6M", "2026-08-31", "2028-02-29"),
        ("P1M1D", "2026-01-31", "2026-03-01"),
        ("P90D", "2026-10-15", "2027-01-13"),
        ("P2W", "2026-12-25", "2027-01-08"),
    ];
    for (text, from, to) in cases {
        assert_eq!(interval(text).add_to(day(from)), day(to), "{from} and {text}");
    }
}

#[test]
fn the_text_keeps_its_units() {
    for (given, shown) in [
        ("P90D", "P90D"),
        ("p6m", "P6M"),
        (" P1Y ", "P1Y"),
        ("P12M", "P12M"),
        ("P0Y06M", "P6M"),
        ("P2W", "P2W"),
        ("P1Y6M10D", "P1Y6M10D"),
    ] {
        assert_eq!(interval(given).to_string(), shown);
        assert_eq!(interval(shown), interval(given));
    }
}

#[test]
fn what_is_no_interval_is_refused_with_a_sentence() {
    let cases = [
        ("", "is not an interval"),
        ("P", "is not an interval"),
        ("6M", "is not an interval"),
        ("P6", "is not an interval"),
        ("PM", "is not an interval"),
        ("P6M1Y", "is not an interval"),
        ("P6M6M", "is not an interval"),
        ("P1.5Y", "is not an interval"),
        ("+P1Y", "is not an interval"),
        ("FREQ=YEARLY", "is not an interval"),
        ("P0D", "no length"),
        ("P0Y0M", "no length"),
        ("-P6M", "negative"),
        ("P-6M", "negative"),
        ("PT6H", "time of day"),
        ("P1DT12H", "time of day"),
        ("P1M2W", "mixes weeks"),
        ("P101Y", "longer than 100 years"),
        ("P100Y1D", "longer than 100 years"),
        ("P1201M", "longer than 100 years"),
        ("P36526D", "longer than 100 years"),
        ("P99999999999D", "longer than 100 years"),
        ("P4294967295Y", "longer than 100 years"),
    ];
    for (text, words) in cases {
        let refusal = text.parse::<Interval>().unwrap_err().to_string();
        assert!(refusal.contains(words), "{text}: {refusal}");
    }
}

#[test]
fn the_longest_interval_is_taken() {
    for text in ["P100Y", "P1200M", "P36525D"] {
        assert_eq!(interval(text).add_to(day("2000-01-01")), day("2100-01-01"));
    }
}

/// Against every day of the 400 years after which the calendar repeats.
#[test]
fn the_shortest_length_is_the_least_over_all_starts() {
    for text in [
        "P1D", "P2W", "P90D", "P1M", "P2M", "P6M", "P18M", "P1Y", "P2Y", "P4Y", "P10Y", "P1Y6M10D",
    ] {
        let interval = interval(text);
        let starts = day("2000-01-01")
            .iter_days()
            .take_while(|start| *start < day("2400-01-01"));
        let least = starts
            .map(|start| (interval.add_to(start) - start).num_days())
            .min()
            .unwrap();
        assert_eq!(i64::from(interval.shortest_days()), least, "{text}");
    }
}

#[test]
fn intervals_read_as_sentences() {
    let cases = [
        ("P6M", "every 6 months, counted from the last time"),
        ("P1Y", "every year, counted from the last time"),
        ("P1D", "every day, counted from the last time"),
        ("P90D", "every 90 days, counted from the last time"),
        ("P2W", "every 2 weeks, counted from the last time"),
        ("P1Y6M", "every 1 year and 6 months, counted from the last time"),
    ];
    for (text, words) in cases {
        assert_eq!(interval(text).describe(), words);
    }
}

/// The clamp is chrono's too: months are added there by the same rule.
#[test]
fn months_agree_with_chrono() {
    let from = NaiveDate::from_ymd_opt(2026, 10, 31).unwrap();
    for months in 1..=48 {
        let expected = from.checked_add_months(Months::new(months)).unwrap();
        assert_eq!(interval(&format!("P{months}M")).add_to(from), expected);
        assert_eq!(
            interval(&format!("P{months}M3D")).add_to(from),
            expected + Days::new(3)
        );
    }
}
