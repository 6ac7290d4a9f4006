//! Single properties of rules, each with a case a manager would meet.

use anglestop::domain::recurrence::Rule;
use chrono::NaiveDate;

use super::{day, rule, take};

/// Rule, start, from, and the days that follow.
fn falls_on(text: &str, start: &str, from: &str, expected: &[&str]) {
    let expected: Vec<NaiveDate> = expected.iter().map(|text| day(text)).collect();
    assert_eq!(
        take(&rule(text, start), day(from), expected.len()),
        expected,
        "{text} from {start}"
    );
}

#[test]
fn a_start_that_does_not_match_is_no_occurrence() {
    let first_mondays = rule("FREQ=MONTHLY;BYDAY=1MO", "2026-01-01");
    assert_eq!(first_mondays.start(), day("2026-01-01"));
    assert_eq!(first_mondays.first(), day("2026-01-05"));
    assert_eq!(
        first_mondays.next_on_or_after(day("2026-01-01")),
        Some(day("2026-01-05"))
    );
}

#[test]
fn count_counts_the_start_only_when_it_matches() {
    falls_on(
        "FREQ=MONTHLY;COUNT=2;BYDAY=1MO",
        "2026-01-05",
        "2026-01-01",
        &["2026-01-05", "2026-02-02"],
    );
    let from_the_first = rule("FREQ=MONTHLY;COUNT=2;BYDAY=1MO", "2026-01-01");
    assert_eq!(
        take(&from_the_first, day("2026-01-01"), 5),
        [day("2026-01-05"), day("2026-02-02")]
    );
}

#[test]
fn the_31st_skips_months_that_have_none() {
    falls_on(
        "FREQ=MONTHLY",
        "2026-01-31",
        "2026-01-31",
        &["2026-01-31", "2026-03-31", "2026-05-31"],
    );
}

#[test]
fn the_31st_or_the_last_day_falls_in_every_month() {
    falls_on(
        "FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1",
        "2026-01-31",
        "2026-01-31",
        &["2026-01-31", "2026-02-28", "2026-03-31", "2026-04-30"],
    );
}

#[test]
fn the_29th_of_february_comes_in_leap_years_and_not_in_2100() {
    falls_on(
        "FREQ=YEARLY",
        "2088-02-29",
        "2092-01-01",
        &["2092-02-29", "2096-02-29", "2104-02-29"],
    );
}

#[test]
fn until_includes_its_day() {
    let rule = rule("FREQ=MONTHLY;UNTIL=20260301", "2026-01-01");
    assert_eq!(rule.next_after(day("2026-02-01")), Some(day("2026-03-01")));
    assert_eq!(rule.next_after(day("2026-03-01")), None);
}

#[test]
fn until_in_local_time_is_compared_with_the_start_s_time() {
    let start = day("2026-01-01").and_hms_opt(9, 0, 0).unwrap();
    let last = |text| {
        Rule::parse_at(text, start, None)
            .unwrap()
            .previous_before(day("2030-01-01"))
    };
    assert_eq!(last("FREQ=DAILY;UNTIL=20260110T090000"), Some(day("2026-01-10")));
    assert_eq!(last("FREQ=DAILY;UNTIL=20260110T085959"), Some(day("2026-01-09")));
}

#[test]
fn until_as_an_instant_moves_with_the_zone() {
    let start = day("2026-01-01").and_hms_opt(9, 0, 0).unwrap();
    let last = |zone: chrono_tz::Tz| {
        let rule = Rule::parse_at("FREQ=DAILY;UNTIL=20260110T000000Z", start, Some(zone)).unwrap();
        rule.previous_before(day("2030-01-01"))
    };
    // Midnight UTC is 9:00 on the 10th in Tokyo, and 19:00 on the 9th in New York.
    assert_eq!(last(chrono_tz::Asia::Tokyo), Some(day("2026-01-10")));
    assert_eq!(last(chrono_tz::America::New_York), Some(day("2026-01-09")));
}

/// Apia crossed the date line: 30 December 2011 does not exist there. RFC 5545, 3.3.5, reads a skipped
/// time with the offset before the gap (UTC-10), so 9:00 on the 30th is 19:00 UTC.
#[test]
fn until_on_a_day_the_zone_skipped_is_read_with_the_offset_before() {
    let start = day("2011-12-01").and_hms_opt(9, 0, 0).unwrap();
    let last = |text| {
        let rule = Rule::parse_at(text, start, Some(chrono_tz::Pacific::Apia)).unwrap();
        rule.previous_before(day("2013-01-01"))
    };
    assert_eq!(last("FREQ=DAILY;UNTIL=20111230T185959Z"), Some(day("2011-12-29")));
    assert_eq!(last("FREQ=DAILY;UNTIL=20111230T190000Z"), Some(day("2011-12-31")));
}

#[test]
fn the_week_start_matters_with_an_interval() {
    // A Sunday start: with Monday weeks the Tuesday after belongs to the next week.
    falls_on(
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU",
        "2026-03-01",
        "2026-03-01",
        &["2026-03-01", "2026-03-10"],
    );
    falls_on(
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=SU",
        "2026-03-01",
        "2026-03-01",
        &["2026-03-01", "2026-03-03"],
    );
}

/// RFC 5545, 3.3.10: BYSETPOS picks from the set of the whole week, also in the week of the start.
#[test]
fn a_position_in_the_week_of_the_start_counts_from_the_week_s_first_day() {
    // Wednesday 4 March 2026: the week's first of Monday and Thursday was Monday the 2nd, before the start.
    falls_on(
        "FREQ=WEEKLY;BYDAY=MO,TH;BYSETPOS=1",
        "2026-03-04",
        "2026-03-01",
        &["2026-03-09", "2026-03-16"],
    );
    falls_on(
        "FREQ=WEEKLY;BYDAY=MO,TH;BYSETPOS=-1",
        "2026-03-04",
        "2026-03-01",
        &["2026-03-05", "2026-03-12"],
    );
    falls_on(
        "FREQ=WEEKLY;COUNT=1;BYDAY=MO,TH;BYSETPOS=1",
        "2026-03-04",
        "2026-03-01",
        &["2026-03-09"],
    );
}

/// RFC 5545, 3.3.10: what the rule leaves open is derived from DTSTART. 1 January 2026 was a Thursday.
#[test]
fn a_week_number_alone_means_the_start_s_weekday() {
    falls_on(
        "FREQ=YEARLY;BYWEEKNO=20",
        "2026-01-01",
        "2026-01-01",
        &["2026-05-14", "2027-05-20", "2028-05-18"],
    );
}

/// The months of 2026 with five Mondays have the first of them here: March, June, August, November.
#[test]
fn the_fifth_from_last_monday_comes_in_months_with_five() {
    falls_on(
        "FREQ=MONTHLY;BYDAY=-5MO",
        "2026-01-01",
        "2026-01-01",
        &["2026-03-02", "2026-06-01", "2026-08-03", "2026-11-02"],
    );
}

/// 2024 began on a Monday and had 53; the next year with 53 Mondays is 2029.
#[test]
fn the_53rd_monday_from_the_end_comes_in_years_with_53() {
    falls_on(
        "FREQ=YEARLY;BYDAY=-53MO",
        "2020-01-01",
        "2020-01-01",
        &["2024-01-01", "2029-01-01"],
    );
}

#[test]
fn days_are_added_and_taken_away() {
    let text =
        "RRULE:FREQ=WEEKLY;COUNT=3;BYDAY=MO\nRDATE:20260108,20260112\nEXDATE;VALUE=DATE:20260112,20260113";
    let rule = rule(text, "2026-01-01");
    // COUNT bounds the rule before EXDATE takes a day away; a day added and taken away is away.
    let days = ["2026-01-05", "2026-01-08", "2026-01-19"].map(day);
    assert_eq!(rule.between(day("2026-01-01"), day("2026-12-31")), days);
    assert_eq!(rule.count_between(day("2026-01-06"), day("2026-12-31")), 2);
    assert_eq!(rule.previous_before(day("2026-01-19")), Some(day("2026-01-08")));
    assert_eq!(rule.shortest_gap_days(), Some(3));
    let canonical = "RRULE:FREQ=WEEKLY;COUNT=3;BYDAY=MO\nRDATE;VALUE=DATE:20260108,20260112\nEXDATE;VALUE=DATE:20260112,20260113";
    assert_eq!(rule.text(), canonical);
    assert_eq!(super::rule(canonical, "2026-01-01"), rule);
}

/// RFC 7529, section 4.3: the worked cases of short months and of 29 February.
#[test]
fn skip_moves_a_day_that_does_not_exist() {
    falls_on(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=OMIT;COUNT=4",
        "2014-01-31",
        "2014-01-31",
        &["2014-01-31", "2014-03-31", "2014-05-31", "2014-07-31"],
    );
    falls_on(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=BACKWARD;COUNT=4",
        "2014-01-31",
        "2014-01-31",
        &["2014-01-31", "2014-02-28", "2014-03-31", "2014-04-30"],
    );
    falls_on(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=FORWARD;COUNT=4",
        "2014-01-31",
        "2014-01-31",
        &["2014-01-31", "2014-03-01", "2014-03-31", "2014-05-01"],
    );
    falls_on(
        "RSCALE=GREGORIAN;FREQ=YEARLY;SKIP=FORWARD",
        "2012-02-29",
        "2012-01-01",
        &[
            "2012-02-29",
            "2013-03-01",
            "2014-03-01",
            "2015-03-01",
            "2016-02-29",
            "2017-03-01",
        ],
    );
    falls_on(
        "RSCALE=GREGORIAN;FREQ=YEARLY;SKIP=BACKWARD",
        "2012-02-29",
        "2012-01-01",
        &[
            "2012-02-29",
            "2013-02-28",
            "2014-02-28",
            "2015-02-28",
            "2016-02-29",
        ],
    );
    falls_on(
        "RSCALE=GREGORIAN;FREQ=YEARLY;SKIP=FORWARD;BYYEARDAY=366",
        "2023-01-01",
        "2023-01-01",
        &["2024-01-01", "2024-12-31", "2026-01-01", "2027-01-01"],
    );
    // Two days moved to one are one occurrence, and it is counted once.
    let rule = rule(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=FORWARD;BYMONTHDAY=1,31",
        "2026-01-01",
    );
    let days = [
        "2026-02-01",
        "2026-03-01",
        "2026-03-31",
        "2026-04-01",
        "2026-05-01",
    ]
    .map(day);
    assert_eq!(rule.between(day("2026-02-01"), day("2026-05-01")), days);
    assert_eq!(rule.count_between(day("2026-02-01"), day("2026-05-01")), 5);
}

#[test]
fn a_table_answers_as_the_rule_does() {
    for text in [
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1",
        "FREQ=DAILY;INTERVAL=90;COUNT=12",
    ] {
        let rule = rule(text, "2025-06-15");
        let (from, to) = (day("2025-01-01"), day("2029-12-31"));
        let table = rule.table(from, to);
        let days: Vec<_> = from.iter_days().take_while(|day| *day <= to).collect();
        let asked: Vec<u16> = days.iter().map(|day| table.offset_of(*day).unwrap()).collect();
        let mut offsets = vec![0; asked.len()];
        table.next_for_all(&asked, &mut offsets);
        for (asked, offset) in days.into_iter().zip(offsets) {
            let expected = rule.next_on_or_after(asked);
            assert_eq!(table.next_on_or_after(asked), expected, "{text} at {asked}");
            let found =
                (offset != anglestop::domain::recurrence::DayTable::NONE).then(|| table.day_of(offset));
            assert_eq!(found, expected);
        }
        assert_eq!(table.offset_of(day("2030-01-01")), None);
    }
}

#[test]
fn ninety_days_run_through_the_turn_of_the_year() {
    falls_on(
        "FREQ=DAILY;INTERVAL=90",
        "2025-10-15",
        "2025-10-16",
        &["2026-01-13", "2026-04-13"],
    );
}

#[test]
fn between_holds_both_ends_and_counts_the_same() {
    let mondays = rule("FREQ=WEEKLY;BYDAY=MO", "2026-01-01");
    let (first, last) = (day("2026-03-02"), day("2026-03-16"));
    assert_eq!(mondays.between(first, last), [first, day("2026-03-09"), last]);
    assert_eq!(mondays.count_between(first, last), 3);
    assert_eq!(mondays.count_between(last, first), 0);
    assert_eq!(mondays.count_between(day("2026-03-03"), day("2026-03-08")), 0);
}

#[test]
fn nothing_comes_before_the_first_or_after_the_last() {
    let twice = rule("FREQ=YEARLY;COUNT=2", "2026-10-01");
    assert_eq!(twice.previous_before(day("2026-10-01")), None);
    assert_eq!(twice.next_after(day("2027-10-01")), None);
    assert_eq!(twice.next_on_or_after(day("1900-01-01")), Some(day("2026-10-01")));
    assert_eq!(twice.previous_before(day("2200-01-01")), Some(day("2027-10-01")));
}

#[test]
fn asking_for_far_days_first_changes_nothing() {
    let (near_first, far_first) = (
        rule("FREQ=MONTHLY", "2026-01-15"),
        rule("FREQ=MONTHLY", "2026-01-15"),
    );
    let far = day("2180-06-01");
    assert_eq!(
        near_first.next_after(day("2026-02-01")),
        far_first.next_after(day("2026-02-01"))
    );
    assert_eq!(far_first.next_after(far), Some(day("2180-06-15")));
    assert_eq!(
        near_first.next_after(day("2026-02-15")),
        far_first.next_after(day("2026-02-15"))
    );
}

#[test]
fn no_occurrence_is_found_after_the_last_year() {
    let yearly = rule("FREQ=YEARLY;INTERVAL=50", "2150-03-01");
    assert_eq!(
        take(&yearly, day("2150-01-01"), 99).last(),
        Some(&day("2350-03-01"))
    );
    assert_eq!(yearly.next_after(NaiveDate::MAX), None);
}

#[test]
fn clones_share_their_days_and_may_be_asked_from_many_threads() {
    let daily = rule("FREQ=DAILY", "2020-01-01");
    let threads: Vec<_> = (0..8)
        .map(|offset| {
            let daily = daily.clone();
            std::thread::spawn(move || {
                let from = day("2020-01-01") + chrono::Days::new(offset * 900);
                (daily.next_after(from), from.succ_opt())
            })
        })
        .collect();
    for thread in threads {
        let (found, expected) = thread.join().unwrap();
        assert_eq!(found, expected);
    }
}

#[test]
fn the_shortest_gap_is_the_least_time_to_the_next_occurrence() {
    let gaps = [
        ("FREQ=DAILY;INTERVAL=90", "2026-01-01", Some(90)),
        ("FREQ=WEEKLY", "2026-01-01", Some(7)),
        ("FREQ=WEEKLY;BYDAY=MO,TH", "2026-01-01", Some(3)),
        ("FREQ=MONTHLY", "2026-03-01", Some(28)),
        ("FREQ=MONTHLY", "2026-01-31", Some(31)), // February is skipped
        ("FREQ=MONTHLY;INTERVAL=6", "2026-03-01", Some(181)),
        ("FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO", "2026-01-05", Some(84)),
        ("FREQ=YEARLY", "2026-10-01", Some(365)),
        ("FREQ=YEARLY;INTERVAL=2", "2026-10-01", Some(730)),
        ("FREQ=YEARLY", "2024-02-29", Some(1461)),
        ("FREQ=YEARLY;BYMONTH=1,7;BYDAY=2TU", "2026-01-01", Some(175)),
        ("FREQ=DAILY;COUNT=1", "2026-01-01", None),
        ("FREQ=YEARLY;UNTIL=20261231", "2026-10-01", None),
        ("FREQ=YEARLY;BYMONTH=1,2;COUNT=2", "2026-02-20", Some(334)),
    ];
    for (text, start, gap) in gaps {
        assert_eq!(rule(text, start).shortest_gap_days(), gap, "{text} from {start}");
    }
}

#[test]
fn the_text_is_canonical() {
    let same = [
        ("rrule:freq=yearly", "FREQ=YEARLY"),
        ("RRULE:FREQ=YEARLY;INTERVAL=1;WKST=MO", "FREQ=YEARLY"),
        (" FREQ=MONTHLY;BYDAY=+1MO ", "FREQ=MONTHLY;BYDAY=1MO"),
        ("BYDAY=FR,MO,MO;FREQ=WEEKLY;", "FREQ=WEEKLY;BYDAY=MO,FR"),
        (
            "FREQ=MONTHLY;BYDAY=-1FR,1TU,1MO",
            "FREQ=MONTHLY;BYDAY=1MO,1TU,-1FR",
        ),
        (
            "FREQ=MONTHLY;BYMONTHDAY=-1,15,1",
            "FREQ=MONTHLY;BYMONTHDAY=1,15,-1",
        ),
        (
            "WKST=SU;BYSETPOS=-1;BYDAY=MO;BYMONTH=3;UNTIL=20401231T000000Z;INTERVAL=2;FREQ=MONTHLY",
            "FREQ=MONTHLY;INTERVAL=2;UNTIL=20401231T000000Z;BYMONTH=3;BYDAY=MO;BYSETPOS=-1;WKST=SU",
        ),
    ];
    for (given, canonical) in same {
        let read = rule(given, "2026-01-01");
        assert_eq!(read.text(), canonical);
        assert_eq!(rule(canonical, "2026-01-01"), read);
    }
}
