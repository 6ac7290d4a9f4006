//! Rules said without syntax: what each saying falls on, and that a rule is recognised as the saying it came from.

use anglestop::domain::code::Coded;
use anglestop::domain::due::{ClosedDays, DayOfWeek, Nth, PlainText, Span, next_dates, read_timing};
use chrono::NaiveDate;
use proptest::prelude::*;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn said(pairs: &[(&str, &str)]) -> PlainText {
    let one = |name: &str| {
        let found = pairs.iter().find(|(known, _)| *known == name);
        found.map_or_else(String::new, |(_, value)| (*value).to_owned())
    };
    PlainText {
        pattern: one("pattern"),
        every: one("every"),
        unit: one("unit"),
        nth: one("nth"),
        weekday: one("weekday"),
        month_step: one("month_step"),
        months: one("months").split_whitespace().map(str::to_owned).collect(),
        month_day: one("month_day"),
        season_from: one("season_from"),
        season_to: one("season_to"),
        season_times: one("season_times"),
    }
}

/// The next four dates of a saying from a day on, read off a paper calendar of 2026 and 2027 by hand.
#[test]
fn every_saying_falls_where_people_expect_it() {
    let cases: [(&[(&str, &str)], &str, &str); 12] = [
        (
            &[("pattern", "every"), ("every", "90"), ("unit", "days")],
            "2026-01-01",
            "2026-01-01 2026-04-01 2026-06-30 2026-09-28",
        ),
        (
            &[("pattern", "every"), ("every", "2"), ("unit", "weeks")],
            "2026-01-05",
            "2026-01-05 2026-01-19 2026-02-02 2026-02-16",
        ),
        (
            &[("pattern", "every"), ("unit", "months")],
            "2026-01-31",
            "2026-01-31 2026-02-28 2026-03-31 2026-04-30",
        ),
        (
            &[("pattern", "every"), ("every", "6"), ("unit", "months")],
            "2026-08-30",
            "2026-08-30 2027-02-28 2027-08-30 2028-02-29",
        ),
        (
            &[("pattern", "every"), ("unit", "years")],
            "2024-02-29",
            "2026-02-28 2027-02-28 2028-02-29 2029-02-28",
        ),
        (
            &[("pattern", "nth_weekday"), ("nth", "1"), ("weekday", "MO")],
            "2026-01-01",
            "2026-01-05 2026-02-02 2026-03-02 2026-04-06",
        ),
        (
            &[
                ("pattern", "nth_weekday"),
                ("nth", "-1"),
                ("weekday", "FR"),
                ("month_step", "3"),
            ],
            "2026-01-01",
            "2026-01-30 2026-04-24 2026-07-31 2026-10-30",
        ),
        (
            &[("pattern", "last_working_day")],
            "2026-01-01",
            "2026-01-30 2026-02-27 2026-03-31 2026-04-30",
        ),
        (
            &[("pattern", "in_months"), ("months", "10"), ("month_day", "15")],
            "2026-01-01",
            "2026-10-15 2027-10-15 2028-10-15 2029-10-15",
        ),
        (
            &[("pattern", "in_months"), ("months", "2 4"), ("month_day", "30")],
            "2026-01-01",
            "2026-02-28 2026-04-30 2027-02-28 2027-04-30",
        ),
        (
            &[
                ("pattern", "season"),
                ("season_from", "4"),
                ("season_to", "9"),
                ("season_times", "2"),
            ],
            "2026-01-01",
            "2026-04-01 2026-07-01 2027-04-01 2027-07-01",
        ),
        (
            &[
                ("pattern", "season"),
                ("season_from", "11"),
                ("season_to", "2"),
                ("season_times", "2"),
            ],
            "2026-01-01",
            "2026-01-01 2026-11-01 2027-01-01 2027-11-01",
        ),
    ];
    for (pairs, start, dates) in cases {
        let (anchor, rule) = said(pairs).rule(start).unwrap().unwrap();
        let timing = read_timing(anchor, &rule, Some(day(start)), 0, 0, None).unwrap();
        let found = next_dates(&timing, day("2026-01-01"), 4, &ClosedDays::none());
        let found: Vec<String> = found.iter().map(|date| date.day.to_string()).collect();
        assert_eq!(found.join(" "), dates, "{pairs:?}: {rule}");
    }
}

#[test]
fn after_the_last_time_is_an_interval() {
    let quarterly = said(&[("pattern", "after_last"), ("every", "3"), ("unit", "months")]);
    assert_eq!(quarterly.rule(""), Ok(Some(("last_done", "P3M".to_owned()))));
    assert_eq!(PlainText::of("last_done", "P3M", ""), quarterly);
    assert_eq!(
        PlainText::of("last_done", "P1Y6M", "").pattern,
        "text",
        "no saying has two units"
    );
}

#[test]
fn what_can_t_be_said_is_refused_with_the_field_and_the_range() {
    let cases: [(&[(&str, &str)], &str); 9] = [
        (&[("pattern", "sometimes")], "pattern"),
        (&[("pattern", "every"), ("every", "0"), ("unit", "days")], "every"),
        (&[("pattern", "every"), ("unit", "fortnights")], "unit"),
        (&[("pattern", "nth_weekday"), ("weekday", "MO")], "nth"),
        (&[("pattern", "season"), ("season_to", "9")], "season_from"),
        (&[("pattern", "season"), ("season_from", "4")], "season_to"),
        (&[("pattern", "in_months")], "months"),
        (&[("pattern", "in_months"), ("months", "13")], "months"),
        (
            &[
                ("pattern", "season"),
                ("season_from", "4"),
                ("season_to", "5"),
                ("season_times", "3"),
            ],
            "season_times",
        ),
    ];
    for (pairs, field) in cases {
        let errors = said(pairs).rule("2026-01-01").unwrap_err();
        assert!(
            errors.iter().any(|error| error.field == field),
            "{pairs:?}: {errors:?}"
        );
    }
}

fn any<T: Coded + 'static>() -> impl Strategy<Value = String> {
    proptest::sample::select(
        T::ALL
            .iter()
            .map(|value| value.code().to_owned())
            .collect::<Vec<_>>(),
    )
}

proptest! {
    #[test]
    fn prop_a_rule_is_recognised_as_a_saying_that_makes_the_same_rule(
        pattern in proptest::sample::select(vec!["after_last", "every", "nth_weekday", "last_working_day", "in_months", "season"]),
        every in 1_u32..40, unit in any::<Span>(), nth in any::<Nth>(), weekday in any::<DayOfWeek>(),
        months in proptest::collection::btree_set(1_u32..=12, 1..5), month_day in 1_u32..=31,
        season in (1_u32..=12, 1_u32..=12, 1_u32..=3), start_day in 0_i64..4_000,
    ) {
        let start = (day("2020-01-01") + chrono::Duration::days(start_day)).to_string();
        let list: Vec<String> = months.iter().map(u32::to_string).collect();
        let (from, to, times) = (season.0.to_string(), season.1.to_string(), season.2.to_string());
        let typed = said(&[
            ("pattern", pattern), ("every", &every.to_string()), ("unit", &unit), ("nth", &nth), ("weekday", &weekday),
            ("month_step", &every.to_string()), ("months", &list.join(" ")), ("month_day", &month_day.to_string()),
            ("season_from", &from), ("season_to", &to), ("season_times", &times),
        ]);
        if let Ok(Some((anchor, rule))) = typed.rule(&start) {
            let again = PlainText::of(anchor, &rule, &start);
            prop_assert_ne!(again.pattern.as_str(), "text", "{}", rule);
            prop_assert_eq!(again.rule(&start), Ok(Some((anchor, rule))));
        }
    }
}
