//! Rules as sentences.

use super::rule;

fn reads(text: &str, start: &str, words: &str) {
    assert_eq!(rule(text, start).describe(), words, "{text} from {start}");
}

#[test]
fn days_and_weeks() {
    reads("FREQ=DAILY", "2026-01-01", "every day");
    reads(
        "FREQ=DAILY;INTERVAL=90",
        "2026-01-01",
        "every 90 days, the first on 1 January 2026",
    );
    reads(
        "FREQ=DAILY;BYDAY=MO,TU,WE,TH,FR",
        "2026-01-01",
        "every working day (Monday to Friday)",
    );
    reads("FREQ=DAILY;BYMONTH=1", "2026-01-01", "every day in January");
    reads("FREQ=WEEKLY", "2026-01-01", "every Thursday");
    reads(
        "FREQ=WEEKLY;BYDAY=MO,TH",
        "2026-01-01",
        "every Monday and Thursday",
    );
    reads(
        "FREQ=WEEKLY;BYDAY=SA,SU",
        "2026-01-01",
        "every Saturday and Sunday",
    );
    reads(
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=MO",
        "2026-01-01",
        "every second week on Monday, the first on 12 January 2026",
    );
    reads(
        "FREQ=WEEKLY;BYDAY=MO;BYMONTH=6,7,8",
        "2026-01-01",
        "every Monday in June, July and August",
    );
}

#[test]
fn months() {
    reads("FREQ=MONTHLY", "2026-01-01", "on the 1st of every month");
    reads(
        "FREQ=MONTHLY",
        "2026-01-31",
        "on the 31st of every month that has one",
    );
    reads(
        "FREQ=MONTHLY;BYMONTHDAY=1,15",
        "2026-01-01",
        "on the 1st and 15th of every month",
    );
    reads(
        "FREQ=MONTHLY;BYMONTHDAY=-1",
        "2026-01-01",
        "on the last day of every month",
    );
    reads(
        "FREQ=MONTHLY;BYMONTHDAY=-3",
        "2026-01-01",
        "on the third-last day of every month",
    );
    reads(
        "FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1",
        "2026-01-31",
        "on the 31st of every month, or on its last day when it is shorter",
    );
    reads(
        "FREQ=MONTHLY;INTERVAL=6",
        "2026-03-01",
        "on the 1st of every sixth month, the first on 1 March 2026",
    );
    reads(
        "FREQ=MONTHLY;INTERVAL=18",
        "2026-03-01",
        "on the 1st of every 18th month, the first on 1 March 2026",
    );
    reads(
        "FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO",
        "2024-03-01",
        "on the first Monday of every third month, the first on 4 March 2024",
    );
    reads(
        "FREQ=MONTHLY;BYDAY=1SU,-1SU",
        "2026-01-01",
        "on the first Sunday and the last Sunday of every month",
    );
    reads(
        "FREQ=MONTHLY;BYMONTH=1,7;BYDAY=2TU",
        "2026-01-01",
        "on the second Tuesday of January and July",
    );
    reads(
        "FREQ=MONTHLY;BYDAY=TU",
        "2026-01-01",
        "on every Tuesday of every month",
    );
    reads(
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1",
        "2026-01-01",
        "on the last working day (Monday to Friday) of every month",
    );
    reads(
        "FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13",
        "2026-01-01",
        "every Friday the 13th",
    );
}

#[test]
fn years() {
    reads("FREQ=YEARLY", "2024-10-01", "every year on 1 October");
    reads(
        "FREQ=YEARLY;INTERVAL=2",
        "2024-10-01",
        "every second year on 1 October, the first on 1 October 2024",
    );
    reads(
        "FREQ=YEARLY",
        "2024-02-29",
        "every year that has one, on 29 February",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=1,7;BYMONTHDAY=1",
        "2026-01-01",
        "every year on 1 January and 1 July",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=6,7",
        "2026-06-10",
        "every year on 10 June and 10 July",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=9;BYMONTHDAY=-1",
        "2026-01-01",
        "every year on the last day of September",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=10;BYDAY=1MO",
        "2026-01-01",
        "every year on the first Monday of October",
    );
    reads(
        "FREQ=YEARLY;BYDAY=20MO",
        "2026-01-01",
        "every year on the 20th Monday of the year",
    );
    reads(
        "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO",
        "2026-01-01",
        "every year on Monday of week 20",
    );
    reads(
        "FREQ=YEARLY;BYYEARDAY=1,100,200",
        "2026-01-01",
        "every year on day 1, 100 and 200",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=3;BYDAY=TH",
        "2026-01-01",
        "every Thursday in March",
    );
    reads(
        "FREQ=YEARLY;BYMONTH=4;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=1",
        "2026-01-01",
        "every year on the first working day (Monday to Friday) of April",
    );
}

#[test]
fn ends() {
    reads(
        "FREQ=YEARLY;COUNT=1",
        "2026-10-01",
        "every year on 1 October, once",
    );
    reads(
        "FREQ=YEARLY;COUNT=3",
        "2026-10-01",
        "every year on 1 October, 3 times in all",
    );
    reads(
        "FREQ=YEARLY;UNTIL=20291231",
        "2026-10-01",
        "every year on 1 October, until 31 December 2029",
    );
}

#[test]
fn moved_days_and_named_days() {
    reads(
        "RSCALE=GREGORIAN;FREQ=MONTHLY;SKIP=BACKWARD",
        "2026-01-31",
        "on the 31st of every month, or on the last day before it where there is none",
    );
    reads(
        "RSCALE=GREGORIAN;FREQ=YEARLY;SKIP=FORWARD",
        "2024-02-29",
        "every year on 29 February, or on the first day after it where there is none",
    );
    reads(
        "FREQ=YEARLY\nRDATE:20261224,20270401\nEXDATE:20271001",
        "2026-10-01",
        "every year on 1 October, besides on 24 December 2026 and 1 April 2027, not on 1 October 2027",
    );
    reads(
        "FREQ=YEARLY;BYWEEKNO=20",
        "2026-01-01",
        "every year on Thursday of week 20",
    );
}

#[test]
fn a_rule_no_plain_words_say_is_named_by_its_text() {
    reads(
        "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
        "2026-01-01",
        "on the days of the rule FREQ=MONTHLY;BYMONTHDAY=7,8,9,10,11,12,13;BYDAY=SA, the first on 10 January 2026",
    );
}
