//! What is refused, and that the sentence names what was given and what to do.

use anglestop::domain::recurrence::Rule;

use super::day;

/// The refusal must hold every one of `words`.
fn refuses(text: &str, start: &str, words: &[&str]) {
    let refusal = match Rule::parse(text, day(start)) {
        Ok(rule) => panic!("{text} from {start} was taken: {rule:?}"),
        Err(refusal) => refusal.to_string(),
    };
    for word in words {
        assert!(refusal.contains(word), "{text}: {word:?} is not in {refusal:?}");
    }
}

const START: &str = "2026-01-05";

#[test]
fn frequencies_below_a_day_are_refused() {
    for word in ["HOURLY", "MINUTELY", "SECONDLY"] {
        refuses(
            &format!("FREQ={word}"),
            START,
            &[word, "use DAILY, WEEKLY, MONTHLY or YEARLY"],
        );
    }
    refuses("FREQ=FORTNIGHTLY", START, &["FORTNIGHTLY", "use DAILY"]);
    refuses("INTERVAL=2", START, &["no FREQ"]);
}

#[test]
fn times_of_day_are_refused() {
    for part in ["BYHOUR", "BYMINUTE", "BYSECOND"] {
        refuses(&format!("FREQ=DAILY;{part}=9"), START, &[part, "leave it out"]);
    }
}

#[test]
fn zero_is_no_interval_and_no_count() {
    refuses("FREQ=DAILY;INTERVAL=0", START, &["INTERVAL=0", "from 1 on"]);
    refuses("FREQ=DAILY;COUNT=0", START, &["COUNT=0", "from 1 on"]);
    refuses("FREQ=DAILY;INTERVAL=-3", START, &["INTERVAL=-3"]);
    refuses(
        "FREQ=DAILY;INTERVAL=99999999999",
        START,
        &["INTERVAL=99999999999"],
    );
    refuses(
        "FREQ=YEARLY;INTERVAL=101",
        START,
        &["INTERVAL=101", "100 years", "at most 100"],
    );
}

#[test]
fn count_and_until_exclude_each_other() {
    refuses(
        "FREQ=DAILY;COUNT=3;UNTIL=20301231",
        START,
        &["COUNT", "UNTIL", "leave one"],
    );
}

#[test]
fn counted_days_need_a_month_or_a_year() {
    refuses(
        "FREQ=WEEKLY;BYDAY=2MO",
        START,
        &["BYDAY=2MO", "FREQ=WEEKLY", "BYDAY=MO"],
    );
    refuses("FREQ=DAILY;BYDAY=2MO", START, &["BYDAY=2MO", "FREQ=DAILY"]);
    refuses("FREQ=YEARLY;BYWEEKNO=20;BYDAY=2MO", START, &["2MO", "BYWEEKNO"]);
}

#[test]
fn counted_and_plain_days_do_not_mix() {
    refuses(
        "FREQ=MONTHLY;BYDAY=1MO,FR",
        START,
        &["1MO", "FR", "two schedules"],
    );
}

#[test]
fn unknown_and_repeated_parts_are_refused() {
    refuses("FREQ=DAILY;BYEASTER=1", START, &["BYEASTER", "is not a part"]);
    refuses("FREQ=DAILY;INTERVAL=2;INTERVAL=3", START, &["INTERVAL", "twice"]);
    refuses("FREQ=DAILY;INTERVAL", START, &["INTERVAL", "NAME=VALUE"]);
    refuses("FREQ=DAILY;INTERVAL=", START, &["INTERVAL=", "NAME=VALUE"]);
    refuses("FREQ=DAILY;;INTERVAL=2", START, &["NAME=VALUE"]);
}

#[test]
fn text_that_is_no_rule_is_refused() {
    refuses("", START, &["empty"]);
    refuses("RRULE:", START, &["empty"]);
    refuses("every year", START, &["NAME=VALUE"]);
    refuses(
        "DTSTART:20260101\nRRULE:FREQ=DAILY",
        START,
        &["the start date apart"],
    );
    refuses("FREQ=DAILY\nFREQ=WEEKLY", START, &["single RRULE"]);
    refuses("RDATE:20260101", START, &["empty"]);
    refuses("FREQ=MONTHLY;BYDAY=é", START, &["BYDAY=é"]);
}

#[test]
fn values_out_of_range_are_refused() {
    let out = [
        ("FREQ=YEARLY;BYMONTH=13", "BYMONTH=13"),
        ("FREQ=YEARLY;BYMONTH=-1", "BYMONTH=-1"),
        ("FREQ=MONTHLY;BYMONTHDAY=0", "BYMONTHDAY=0"),
        ("FREQ=MONTHLY;BYMONTHDAY=32", "BYMONTHDAY=32"),
        ("FREQ=YEARLY;BYYEARDAY=-367", "BYYEARDAY=-367"),
        ("FREQ=YEARLY;BYWEEKNO=54;BYDAY=MO", "BYWEEKNO=54"),
        ("FREQ=MONTHLY;BYDAY=0MO", "BYDAY=0MO"),
        ("FREQ=MONTHLY;BYDAY=6MO", "BYDAY=6MO"),
        ("FREQ=MONTHLY;BYDAY=XX", "BYDAY=XX"),
        ("FREQ=MONTHLY;BYDAY=1.5MO", "BYDAY=1.5MO"),
        ("FREQ=MONTHLY;BYDAY=MO;BYSETPOS=0", "BYSETPOS=0"),
        ("FREQ=MONTHLY;BYDAY=MO;BYSETPOS=367", "BYSETPOS=367"),
        ("FREQ=WEEKLY;WKST=1", "WKST=1"),
        ("FREQ=DAILY;UNTIL=20260230", "UNTIL=20260230"),
        ("FREQ=DAILY;UNTIL=20301231Z", "UNTIL=20301231Z"),
        ("FREQ=DAILY;UNTIL=20301231T240000Z", "UNTIL=20301231T240000Z"),
        ("FREQ=DAILY;UNTIL=tomorrow", "UNTIL=TOMORROW"),
    ];
    for (text, words) in out {
        refuses(text, START, &[words]);
    }
}

/// RFC 5545, 3.3.10, the table of parts by frequency.
#[test]
fn parts_the_standard_forbids_under_a_frequency_are_refused() {
    refuses("FREQ=WEEKLY;BYMONTHDAY=1", START, &["BYMONTHDAY", "FREQ=WEEKLY"]);
    for frequency in ["DAILY", "WEEKLY", "MONTHLY"] {
        refuses(
            &format!("FREQ={frequency};BYYEARDAY=1"),
            START,
            &["BYYEARDAY", frequency],
        );
        refuses(
            &format!("FREQ={frequency};BYWEEKNO=1"),
            START,
            &["BYWEEKNO", frequency],
        );
    }
    refuses("FREQ=MONTHLY;BYSETPOS=1", START, &["BYSETPOS", "add BYDAY"]);
}

#[test]
fn rules_that_never_occur_are_refused() {
    refuses("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", START, &["never occurs"]);
    refuses(
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;INTERVAL=4",
        START,
        &["never occurs"],
    );
    refuses("FREQ=WEEKLY;BYDAY=MO,TU;BYSETPOS=3", START, &["never occurs"]);
    refuses("FREQ=DAILY;INTERVAL=7;BYDAY=TU", START, &["never occurs"]); // the start is a Monday
    refuses("FREQ=YEARLY;BYMONTH=3;BYDAY=6MO", START, &["never occurs"]);
}

#[test]
fn an_until_before_the_first_occurrence_names_that_day() {
    refuses(
        "FREQ=YEARLY;UNTIL=20251231",
        START,
        &["never occurs", "2026-01-05", "UNTIL"],
    );
    refuses(
        "FREQ=MONTHLY;BYDAY=1MO;UNTIL=20260201",
        "2026-01-10",
        &["2026-02-02"],
    );
}

#[test]
fn a_start_far_from_our_time_is_refused() {
    refuses("FREQ=DAILY", "1899-12-31", &["1899-12-31", "1900"]);
    refuses("FREQ=DAILY", "2200-01-01", &["2199"]);
}

#[test]
fn days_beside_the_rule_are_plain_days_of_its_time() {
    let refused = [
        ("FREQ=DAILY\nRDATE:20260230", "20260230"),
        ("FREQ=DAILY\nEXDATE:20260110T090000", "without a time"),
        ("FREQ=DAILY\nRDATE;VALUE=PERIOD:20260110T090000Z/PT1H", "RDATE"),
        ("FREQ=DAILY\nEXDATE;TZID=Europe/Berlin:20260110T090000", "EXDATE"),
        ("FREQ=DAILY\nRDATE:24000101", "2399"),
        ("FREQ=DAILY\nRDATE:20260104", "before the start"),
        ("FREQ=YEARLY;COUNT=1\nEXDATE:20260105", "takes every one"),
    ];
    for (text, words) in refused {
        refuses(text, START, &[words]);
    }
}

/// RFC 7529, 4.1: SKIP must not stand without RSCALE.
#[test]
fn skip_needs_the_gregorian_calendar_beside_it() {
    refuses("FREQ=MONTHLY;SKIP=BACKWARD", START, &["RSCALE=GREGORIAN"]);
    refuses(
        "RSCALE=HEBREW;FREQ=MONTHLY",
        START,
        &["RSCALE=HEBREW", "Gregorian"],
    );
    refuses(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=YES",
        START,
        &["SKIP=YES", "BACKWARD"],
    );
}

/// Nobody waits for a refusal: 400 years hold every pattern of the calendar, and are looked through at once.
#[test]
fn impossible_rules_are_refused_in_milliseconds() {
    let impossible = [
        "FREQ=MONTHLY;BYDAY=MO;BYSETPOS=40",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
        "FREQ=DAILY;INTERVAL=7;BYDAY=TU",
        "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30;INTERVAL=3",
        "FREQ=YEARLY;BYWEEKNO=53;BYMONTH=6",
        "FREQ=WEEKLY;BYMONTH=1;BYDAY=MO;BYSETPOS=2",
        "FREQ=MONTHLY;INTERVAL=12;BYMONTH=2",
        "FREQ=DAILY;BYSETPOS=2;BYDAY=MO",
    ];
    for text in impossible {
        let begun = std::time::Instant::now();
        refuses(text, START, &["never occurs"]);
        let took = begun.elapsed();
        assert!(took < std::time::Duration::from_millis(200), "{text}: {took:?}");
    }
}
