//! The laws of due dates, each named.

use anglestop::domain::due::{Anchor, Basis, ClosedDays, History, State, Timing, Window, missed, next_due};
use anglestop::domain::recurrence::{Interval, Rule};
use chrono::{Days, NaiveDate};
use proptest::prelude::*;

const RULES: [&str; 8] = [
    "FREQ=YEARLY",
    "FREQ=MONTHLY;INTERVAL=6",
    "FREQ=MONTHLY",
    "FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO",
    "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1",
    "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU",
    "FREQ=DAILY;INTERVAL=90",
    "FREQ=YEARLY;BYMONTH=1,7;BYDAY=2TU",
];
const INTERVALS: [&str; 5] = ["P1Y", "P6M", "P1M", "P90D", "P2W"];

fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0_u64..4_000).prop_map(|days| NaiveDate::from_ymd_opt(2020, 1, 1).unwrap() + Days::new(days))
}

/// A calendar timing whose lead and grace fill up to nine tenths of the gap.
fn calendar() -> impl Strategy<Value = (Timing, Rule)> {
    (
        prop::sample::select(RULES.to_vec()),
        any_day(),
        0_u32..=45,
        0_u32..=45,
    )
        .prop_map(|(text, start, lead, grace)| {
            let rule = Rule::parse(text, start).unwrap();
            let gap = rule.shortest_gap_days().unwrap();
            let (lead, grace) = (gap * lead / 100, gap * grace / 100);
            (
                Timing::new(Anchor::Calendar(rule.clone()), lead, grace, None).unwrap(),
                rule,
            )
        })
}

fn last_done() -> impl Strategy<Value = (Timing, Interval)> {
    prop::sample::select(INTERVALS.to_vec()).prop_map(|text| {
        let interval: Interval = text.parse().unwrap();
        (
            Timing::new(Anchor::LastDone(interval), 5, 5, None).unwrap(),
            interval,
        )
    })
}

fn history() -> impl Strategy<Value = History> {
    let maybe = || prop::option::of(any_day());
    (any_day(), maybe(), maybe(), maybe(), 0_u32..1_000_000).prop_map(
        |(joined, done, installed, imported, spread_ppm)| {
            // Nothing is done in the register before the building joined it.
            History {
                done: done.map(|day| day.max(joined)),
                installed,
                imported,
                joined,
                spread_ppm,
            }
        },
    )
}

fn due(timing: &Timing, history: &History) -> NaiveDate {
    next_due(timing, history).unwrap().window.due()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    #[test]
    fn nothing_falls_due_before_the_building_joined((calendar, _) in calendar(), (last_done, _) in last_done(), history in history()) {
        prop_assert!(due(&calendar, &history) >= history.joined);
        prop_assert!(due(&last_done, &history) >= history.joined);
    }

    #[test]
    fn a_calendar_due_date_is_the_first_occurrence_that_was_not_satisfied((timing, rule) in calendar(), history in history()) {
        let item = next_due(&timing, &history).unwrap();
        let due = item.window.due();
        let satisfied = |occurrence: NaiveDate| {
            item.basis != Basis::Joined && occurrence - Days::new(timing.early_days().into()) <= item.counts_from
        };
        prop_assert_eq!(rule.count_between(due, due), 1);
        prop_assert!(!satisfied(due));
        for earlier in rule.between(history.joined, due.pred_opt().unwrap()) {
            prop_assert!(satisfied(earlier), "{earlier} lies between joining and {due}");
        }
    }

    #[test]
    fn doing_it_in_its_window_moves_the_due_date_on((timing, _) in calendar(), history in history(), share in 0_u64..=100) {
        let window = next_due(&timing, &history).unwrap().window;
        let length = (window.last_day() - window.opens()).num_days().unsigned_abs();
        let done = window.opens() + Days::new(length * share / 100);
        prop_assume!(done >= history.joined && history.counts_from().1 <= done);
        let again = History { done: Some(done), ..history };
        prop_assert!(due(&timing, &again) > window.due());
    }

    #[test]
    fn windows_of_neighbouring_occurrences_never_overlap((timing, rule) in calendar(), from in any_day()) {
        let first = rule.next_on_or_after(from).unwrap();
        let second = rule.next_after(first).unwrap();
        let around = |day| Window::around(day, timing.lead_days(), timing.grace_days());
        prop_assert!(around(first).last_day() < around(second).opens());
    }

    #[test]
    fn a_later_doing_never_brings_a_due_date_forward((calendar, _) in calendar(), (last_done, _) in last_done(), history in history(), later in 1_u64..800) {
        let done = history.counts_from().1;
        let first = History { done: Some(done), ..history };
        let second = History { done: Some(done + Days::new(later)), ..history };
        prop_assert!(due(&calendar, &second) >= due(&calendar, &first));
        prop_assert!(due(&last_done, &second) >= due(&last_done, &first));
    }

    #[test]
    fn from_last_done_the_due_date_is_one_interval_on((timing, interval) in last_done(), joined in any_day(), after in 0_u64..2_000) {
        let done = joined + Days::new(after);
        let history = History { done: Some(done), ..History::joined(joined) };
        prop_assert_eq!(due(&timing, &history), interval.add_to(done));
    }

    #[test]
    fn the_spread_stays_within_one_interval_and_keeps_its_order((timing, interval) in last_done(), joined in any_day(), a in 0_u32..1_000_000, b in 0_u32..1_000_000) {
        let at = |spread_ppm| due(&timing, &History { spread_ppm, ..History::joined(joined) });
        prop_assert!(at(a) >= joined && at(a) < interval.add_to(joined));
        prop_assert_eq!(at(a.min(b)).max(at(a.max(b))), at(a.max(b)));
    }

    #[test]
    fn the_state_only_moves_forward((timing, _) in calendar(), history in history(), from in any_day(), days in 0_u64..500) {
        let window = next_due(&timing, &history).unwrap().window;
        let (first, second) = (window.state(from), window.state(from + Days::new(days)));
        prop_assert!(first <= second);
        prop_assert_eq!(window.days_overdue(from) > 0, first == State::Overdue);
    }

    #[test]
    fn something_is_missed_exactly_when_it_is_overdue((calendar, _) in calendar(), (last_done, _) in last_done(), history in history(), as_of in any_day()) {
        for timing in [&calendar, &last_done] {
            let item = next_due(timing, &history).unwrap();
            let found = missed(timing, &item, &ClosedDays::none(), as_of);
            prop_assert_eq!(found > 0, item.window.state(as_of) == State::Overdue);
        }
    }

    #[test]
    fn missed_counts_the_occurrences_whose_grace_has_ended((timing, rule) in calendar(), history in history(), as_of in any_day()) {
        let item = next_due(&timing, &history).unwrap();
        let window = item.window;
        let over = rule.between(window.due(), as_of.max(window.due()));
        let over = over.iter().filter(|day| **day + Days::new(timing.grace_days().into()) < as_of).count();
        prop_assert_eq!(usize::try_from(missed(&timing, &item, &ClosedDays::none(), as_of)).unwrap(), over);
    }

    #[test]
    fn an_installation_before_joining_changes_nothing(history in history(), before in 1_u64..4_000) {
        let never = History { installed: None, ..history };
        let before = History { installed: Some(history.joined - Days::new(before)), ..history };
        prop_assert_eq!(never.counts_from(), before.counts_from());
    }
}
