//! When a check opens, is due and is overdue: the table of cases that holds the meaning, what timings
//! are refused, and the laws.
//!
//! The cases stand in `due_cases.csv`, one a row, in words a manager would use. The same table is read
//! by the independent script `oracles/due.py --cases`.

mod laws;
mod oracle;
mod timings;

use anglestop::domain::due::{
    Anchor, Basis, History, State, Timing, Window, earliest, missed, next_due, sentence,
};
use anglestop::domain::recurrence::Rule;
use chrono::NaiveDate;
use serde::Deserialize;

const CASES: &str = include_str!("due_cases.csv");

#[derive(Deserialize)]
struct Case {
    case: String,
    anchor: String,
    start: Option<NaiveDate>,
    lead_days: u32,
    grace_days: u32,
    early_days: Option<u32>,
    joined: NaiveDate,
    done: Option<NaiveDate>,
    installed: Option<NaiveDate>,
    imported: Option<NaiveDate>,
    spread_ppm: u32,
    as_of: NaiveDate,
    #[serde(skip)]
    expected: Answer,
}

/// What the table expects, and what came out; empty cells where nothing is due.
#[derive(Deserialize, Debug, Default, PartialEq)]
struct Answer {
    basis: String,
    counts_from: Option<NaiveDate>,
    opens: Option<NaiveDate>,
    due: Option<NaiveDate>,
    last_day: Option<NaiveDate>,
    state: String,
    days_overdue: Option<u32>,
    missed: Option<u32>,
    sentence: String,
}

impl Case {
    fn timing(&self) -> Timing {
        let anchor = match self.start {
            Some(start) => Anchor::Calendar(Rule::parse(&self.anchor, start).unwrap()),
            None => Anchor::LastDone(self.anchor.parse().unwrap()),
        };
        Timing::new(anchor, self.lead_days, self.grace_days, self.early_days).unwrap()
    }

    fn history(&self) -> History {
        History {
            done: self.done,
            installed: self.installed,
            imported: self.imported,
            joined: self.joined,
            spread_ppm: self.spread_ppm,
        }
    }

    fn answer(&self) -> Answer {
        let timing = self.timing();
        let item = next_due(&timing, &self.history());
        let window = item.map(|item| item.window);
        let text = |value: Option<String>| value.unwrap_or_default();
        Answer {
            basis: text(item.map(|item| item.basis.code().to_owned())),
            counts_from: item.map(|item| item.counts_from),
            opens: window.map(|window| window.opens()),
            due: window.map(|window| window.due()),
            last_day: window.map(|window| window.last_day()),
            state: text(window.map(|window| window.state(self.as_of).code().to_owned())),
            days_overdue: window.map(|window| window.days_overdue(self.as_of)),
            missed: window.map(|window| missed(&timing, &window, self.as_of)),
            sentence: text(window.map(|window| sentence(&window, self.as_of))),
        }
    }
}

fn cases() -> Vec<Case> {
    let mut table = csv::Reader::from_reader(CASES.as_bytes());
    let headers = table.headers().unwrap().clone();
    let rows = table.records().map(|row| row.unwrap());
    let cases = rows.map(|row| Case {
        expected: row.deserialize(Some(&headers)).unwrap(),
        ..row.deserialize(Some(&headers)).unwrap()
    });
    cases.collect()
}

#[test]
fn every_case_of_the_table_comes_out_as_written() {
    let cases = cases();
    let wrong: Vec<_> = cases
        .iter()
        .map(|case| (&case.case, case.answer(), &case.expected))
        .filter(|(_, found, expected)| found != *expected)
        .map(|(case, found, expected)| format!("{case}\n  found    {found:?}\n  expected {expected:?}"))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {} cases:\n{}",
        wrong.len(),
        cases.len(),
        wrong.join("\n")
    );
    assert!(cases.len() >= 80, "the table has {} cases", cases.len());
}

#[test]
fn the_table_has_every_state_and_every_basis_and_no_case_twice() {
    let cases = cases();
    for state in State::ALL {
        assert!(
            cases.iter().any(|case| case.expected.state == state.code()),
            "{state:?}"
        );
        assert_eq!(State::from_code(state.code()), Some(state));
    }
    for basis in Basis::ALL {
        assert!(
            cases.iter().any(|case| case.expected.basis == basis.code()),
            "{basis:?}"
        );
        assert_eq!(Basis::from_code(basis.code()), Some(basis));
    }
    let mut words: Vec<_> = cases.iter().map(|case| &case.case).collect();
    words.sort();
    words.dedup();
    assert_eq!(words.len(), cases.len());
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn of_several_schedules_the_one_with_the_earliest_last_day_is_shown() {
    let shown = |candidates: &[(&str, Window)]| {
        let candidates = candidates.iter().copied();
        earliest(candidates, |(code, window)| (*window, code)).map(|(code, _)| code.to_owned())
    };
    let due_first = ("B", Window::around(day("2026-05-01"), 0, 30));
    let ends_first = ("C", Window::around(day("2026-05-20"), 0, 3));
    assert_eq!(shown(&[due_first, ends_first]).as_deref(), Some("C"));
    // The same last day: the earlier due date.
    let same_end = ("A", Window::around(day("2026-05-21"), 0, 2));
    assert_eq!(shown(&[same_end, ends_first]).as_deref(), Some("C"));
    // The same window: the first code.
    let twin = ("B", ends_first.1);
    assert_eq!(shown(&[ends_first, twin]).as_deref(), Some("B"));
    assert_eq!(shown(&[twin, ends_first]).as_deref(), Some("B"));
    assert_eq!(shown(&[]), None);
}

#[test]
fn a_stored_window_out_of_order_is_refused() {
    let (early, middle, late) = (day("2026-01-01"), day("2026-02-01"), day("2026-03-01"));
    let window = Window::from_days(early, middle, late).unwrap();
    assert_eq!(
        (window.opens(), window.due(), window.last_day()),
        (early, middle, late)
    );
    assert!(Window::from_days(middle, middle, middle).is_some());
    assert_eq!(Window::from_days(middle, early, late), None);
    assert_eq!(Window::from_days(early, late, middle), None);
}
