//! When a check opens, is due and is overdue: the table of cases that holds the meaning, what timings
//! are refused, and the laws.
//!
//! The cases stand in `due_cases.csv`, one a row, in words a manager would use. The same table is read
//! by the independent script `oracles/due.py --cases`.

mod laws;
mod oracle;
mod timings;

use anglestop::domain::code::Coded as _;
use anglestop::domain::due::{
    Anchor, Basis, Bounds, ClosedDays, ClosingText, History, Moving, OnClosedDays, OpenTurnover, Season,
    State, Stay, Tenancy, Timing, Vacancy, Window, WorkCalendar, WorkingDays, earliest, missed,
    moved_in_words, next_due_within, read_working_days, sentence,
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
    on_closed_days: String,
    season_months: String,
    working_days: String,
    closings: String,
    vacancy: String,
    households: String,
    vacant: String,
    turnover: String,
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
    moved: String,
}

impl Case {
    fn timing(&self) -> Timing {
        let anchor = match self.start {
            Some(start) => Anchor::Calendar(Rule::parse(&self.anchor, start).unwrap()),
            None => Anchor::LastDone(self.anchor.parse().unwrap()),
        };
        let timing = Timing::new(anchor, self.lead_days, self.grace_days, self.early_days).unwrap();
        timing.moved_by(self.moving()).unwrap()
    }

    fn moving(&self) -> Moving {
        let on_closed_days = match self.on_closed_days.as_str() {
            "" => OnClosedDays::Stays,
            code => OnClosedDays::from_code(code).unwrap(),
        };
        let months = self.season_months.split_whitespace();
        Moving {
            on_closed_days,
            season: Season::of(months.map(|month| month.parse().unwrap())),
            vacancy: match self.vacancy.as_str() {
                "" => Vacancy::Any,
                code => Vacancy::from_code(code).unwrap(),
            },
        }
    }

    /// Households stand between bars, each as its move-in and move-out with a stroke between; a turnover as the day it was opened and that
    /// of its move-in.
    fn tenancy(&self) -> Tenancy {
        let pair = |text: &str| {
            let (from, until) = text.split_once('/').unwrap();
            (day(from), (!until.is_empty()).then(|| day(until)))
        };
        let stays = self.households.split('|').filter(|text| !text.is_empty());
        let stay = |(from, until)| Stay { from, until };
        let turnover = Some(self.turnover.as_str()).filter(|text| !text.is_empty());
        Tenancy {
            is_vacant: self.vacant == "yes",
            stays: stays.map(pair).map(stay).collect(),
            turnover: turnover.map(pair).map(|(opened_on, move_in_on)| OpenTurnover {
                opened_on,
                move_in_on: move_in_on.unwrap(),
            }),
        }
    }

    /// Closings stand between bars, each as its name, first day, rule and days between at signs.
    fn calendar(&self) -> WorkCalendar {
        let closings = self.closings.split('|').filter(|text| !text.is_empty());
        let closing = |text: &str| {
            let [name, start, rule, days] = text.split('@').collect::<Vec<_>>().try_into().unwrap();
            let kind = if days == "1" {
                "public_holiday"
            } else {
                "shut_down"
            };
            let text = ClosingText {
                kind: kind.to_owned(),
                name: name.to_owned(),
                start: start.to_owned(),
                repeats: String::new(),
                rule: rule.to_owned(),
                days: days.to_owned(),
            };
            text.read().unwrap()
        };
        WorkCalendar {
            working_days: match self.working_days.as_str() {
                "" => WorkingDays::default(),
                codes => read_working_days([codes]).unwrap(),
            },
            closings: closings.map(closing).collect(),
        }
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
        let closed = ClosedDays::of(self.calendar(), self.joined);
        let bounds = Bounds {
            earliest: self.joined,
            closed: &closed,
            tenancy: &self.tenancy(),
        };
        let item = next_due_within(&timing, &self.history(), bounds);
        let moved = item.and_then(|item| item.moved_from);
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
            missed: item.map(|item| missed(&timing, &item, &closed, self.as_of)),
            sentence: text(window.map(|window| sentence(&window, self.as_of))),
            moved: text(moved.zip(window).map(|(from, window)| {
                moved_in_words(self.moving(), (from, window.due()), &closed, self.as_of)
            })),
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

/// What a manager reads of a case: where it stands on which day, when it is due, and why not on another day.
fn line(case: &Case) -> String {
    let Answer {
        due, sentence, moved, ..
    } = &case.expected;
    let due = due.map_or_else(|| "never".to_owned(), |due| due.format("%a %Y-%m-%d").to_string());
    let says = match (sentence.as_str(), moved.as_str()) {
        ("", _) => "nothing is due".to_owned(),
        (sentence, "") => sentence.to_owned(),
        (sentence, moved) => format!("{sentence}; {moved}"),
    };
    format!("| {} | {} | {due} | {says} |", case.case, case.as_of)
}

#[test]
fn the_table_for_people_is_the_table_that_is_tested() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let text = std::fs::read_to_string(&path).unwrap();
    let head = "| case | on the day | due | says |\n|---|---|---|---|\n";
    let (before, rest) = text.split_once(head).unwrap();
    let after = rest.find("\n\n").map_or("", |end| &rest[end..]);
    let lines: Vec<String> = cases().iter().map(line).collect();
    let wanted = format!("{before}{head}{}{after}", lines.join("\n"));
    if std::env::var_os("ANGLESTOP_REDRAW").is_some() {
        std::fs::write(&path, &wanted).unwrap();
    }
    assert_eq!(text, wanted, "ANGLESTOP_REDRAW=1 writes the table anew");
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
