//! Properties, each named by its law.

use anglestop::domain::recurrence::{Interval, Rule};
use chrono::{Datelike, Days, NaiveDate, Weekday};
use proptest::prelude::*;

use super::take;

fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0_u64..11_000).prop_map(|days| NaiveDate::from_ymd_opt(2015, 1, 1).unwrap() + Days::new(days))
}

/// Rules as schedules use them, without an end.
fn endless_rule() -> impl Strategy<Value = String> {
    let days = prop::sample::subsequence(vec!["MO", "TU", "WE", "TH", "FR", "SA", "SU"], 1..=3);
    let month_days = prop::collection::vec(prop_oneof![1_i32..=28, -28_i32..=-1], 1..=3);
    let join = |list: Vec<i32>| list.iter().map(i32::to_string).collect::<Vec<_>>().join(",");
    prop_oneof![
        (1_u32..=400).prop_map(|interval| format!("FREQ=DAILY;INTERVAL={interval}")),
        (1_u32..=8, days.clone())
            .prop_map(|(n, days)| format!("FREQ=WEEKLY;INTERVAL={n};BYDAY={}", days.join(","))),
        (1_u32..=24, month_days)
            .prop_map(move |(n, days)| format!("FREQ=MONTHLY;INTERVAL={n};BYMONTHDAY={}", join(days))),
        (1_u32..=12, 1_i32..=4, days).prop_map(|(n, nth, days)| {
            let days: Vec<_> = days.iter().map(|day| format!("{nth}{day}")).collect();
            format!("FREQ=MONTHLY;INTERVAL={n};BYDAY={}", days.join(","))
        }),
        (1_u32..=5, 1_u32..=12, 1_u32..=28).prop_map(|(n, month, day)| {
            format!("FREQ=YEARLY;INTERVAL={n};BYMONTH={month};BYMONTHDAY={day}")
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    #[test]
    fn next_is_the_first_of_between(text in endless_rule(), start in any_day(), from in any_day()) {
        let rule = Rule::parse(&text, start).unwrap();
        let next = rule.next_on_or_after(from).unwrap();
        prop_assert!(next >= from && next >= start);
        prop_assert_eq!(rule.between(from, next), vec![next]);
        prop_assert_eq!(rule.next_after(next.pred_opt().unwrap()), Some(next));
    }

    #[test]
    fn previous_undoes_next(text in endless_rule(), start in any_day(), from in any_day()) {
        let rule = Rule::parse(&text, start).unwrap();
        let next = rule.next_on_or_after(from).unwrap();
        let after = rule.next_after(next).unwrap();
        prop_assert!(after > next);
        prop_assert_eq!(rule.previous_before(after), Some(next));
        prop_assert!(rule.previous_before(next).is_none_or(|day| day < from));
    }

    #[test]
    fn no_two_occurrences_are_closer_than_the_shortest_gap(text in endless_rule(), start in any_day()) {
        let rule = Rule::parse(&text, start).unwrap();
        let gap = i64::from(rule.shortest_gap_days().unwrap());
        let days = take(&rule, start, 40);
        let gaps: Vec<_> = days.windows(2).map(|pair| (pair[1] - pair[0]).num_days()).collect();
        prop_assert!(gaps.iter().all(|found| *found >= gap), "{gaps:?} against {gap}");
    }

    #[test]
    fn count_keeps_the_first_and_until_keeps_up_to_its_day(text in endless_rule(), start in any_day(), count in 1_usize..20) {
        let days = take(&Rule::parse(&text, start).unwrap(), start, count + 1);
        let counted = Rule::parse(&format!("{text};COUNT={count}"), start).unwrap();
        prop_assert_eq!(take(&counted, start, count + 1), days[..count].to_vec());
        let until = days[count - 1].format("%Y%m%d");
        let ended = Rule::parse(&format!("{text};UNTIL={until}"), start).unwrap();
        prop_assert_eq!(take(&ended, start, count + 1), days[..count].to_vec());
    }

    #[test]
    fn canonical_text_reads_back_to_the_same_rule(text in endless_rule(), start in any_day(), from in any_day()) {
        let rule = Rule::parse(&text, start).unwrap();
        let again = Rule::parse(rule.text(), start).unwrap();
        prop_assert_eq!(again.text(), rule.text());
        prop_assert_eq!(again.next_after(from), rule.next_after(from));
    }

    #[test]
    fn next_previous_between_and_count_agree_with_days_added_and_taken_away(
        text in endless_rule(),
        start in any_day(),
        count in 1_u32..60,
        extra in prop::collection::vec(0_u64..900, 0..4),
        except in prop::collection::vec(0_usize..40, 0..4),
    ) {
        let own = take(&Rule::parse(&format!("{text};COUNT={count}"), start).unwrap(), start, 60);
        let listed = |days: &[NaiveDate]| days.iter().map(|day| day.format("%Y%m%d").to_string()).collect::<Vec<_>>().join(",");
        let extra: Vec<NaiveDate> = extra.iter().map(|after| start + Days::new(*after)).collect();
        let except: Vec<NaiveDate> = except.iter().filter_map(|at| own.get(*at).copied()).collect();
        let mut lines = format!("{text};COUNT={count}");
        for (name, days) in [("RDATE", &extra), ("EXDATE", &except)] {
            if !days.is_empty() {
                lines += &format!("\n{name};VALUE=DATE:{}", listed(days));
            }
        }
        let mut expected: Vec<NaiveDate> = own.into_iter().chain(extra).filter(|day| !except.contains(day)).collect();
        expected.sort_unstable();
        expected.dedup();
        let Ok(rule) = Rule::parse(&lines, start) else {
            prop_assert!(expected.is_empty());
            return Ok(());
        };
        prop_assert_eq!(take(&rule, start, 99), expected.clone());
        let end = *expected.last().unwrap();
        prop_assert_eq!(rule.between(start, end), expected.clone());
        prop_assert_eq!(rule.count_between(start, end), expected.len());
        prop_assert_eq!(rule.previous_before(end.succ_opt().unwrap()), Some(end));
        for pair in expected.windows(2) {
            prop_assert_eq!(rule.previous_before(pair[1]), Some(pair[0]));
            prop_assert_eq!(rule.next_after(pair[0]), Some(pair[1]));
        }
    }

    #[test]
    fn weekly_occurrences_fall_on_their_weekdays(interval in 1_u32..9, start in any_day(), from in any_day()) {
        let rule = Rule::parse(&format!("FREQ=WEEKLY;INTERVAL={interval};BYDAY=MO,TH"), start).unwrap();
        let next = rule.next_on_or_after(from).unwrap();
        prop_assert!(matches!(next.weekday(), Weekday::Mon | Weekday::Thu));
    }

    #[test]
    fn no_text_makes_the_parser_panic(text in "\\PC{0,60}", start in any_day()) {
        let _ = Rule::parse(&text, start);
        let _ = text.parse::<Interval>();
    }

    #[test]
    fn no_list_of_parts_makes_the_parser_panic(
        parts in prop::collection::vec(
            ("(FREQ|INTERVAL|COUNT|UNTIL|BYDAY|BYMONTH|BYMONTHDAY|BYSETPOS|BYWEEKNO|BYYEARDAY|WKST)", "(YEARLY|MONTHLY|DAILY|[+-]?[0-9]{1,3}|-?[0-5]?(MO|TU|SU)|[0-9]{8}(T[0-9]{6}Z?)?)"),
            1..4,
        ),
        start in any_day(),
    ) {
        let text: Vec<_> = parts.iter().map(|(name, value)| format!("{name}={value}")).collect();
        if let Ok(rule) = Rule::parse(&format!("FREQ=YEARLY;{}", text.join(";")), start) {
            prop_assert!(rule.first() >= start);
            prop_assert!(!rule.describe().is_empty());
        }
    }

    #[test]
    fn an_interval_never_takes_less_than_its_shortest(months in 0_u32..60, days in 1_u32..400, from in any_day()) {
        let interval: Interval = format!("P{months}M{days}D").parse().unwrap();
        let end = interval.add_to(from);
        prop_assert!((end - from).num_days() >= i64::from(interval.shortest_days()));
        prop_assert_eq!(interval.to_string().parse::<Interval>(), Ok(interval));
    }

    #[test]
    fn whole_months_keep_the_day_or_end_on_the_last(months in 1_u32..60, from in any_day()) {
        let interval: Interval = format!("P{months}M").parse().unwrap();
        let end = interval.add_to(from);
        let last_day = (end + Days::new(1)).month() != end.month();
        prop_assert!(end.day() == from.day() || (end.day() < from.day() && last_day));
    }
}
