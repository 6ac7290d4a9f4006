//! Where the references and RFC 5545 part: each class a predicate, with the paragraph beside it.

use chrono::{Datelike, NaiveDate};

use super::generator::{Case, WEEKDAYS};

/// A class of rules that a reference reads otherwise than RFC 5545 says.
pub struct Exemption {
    pub name: &'static str,
    /// RFC 5545, the paragraph that decides.
    pub paragraph: &'static str,
    pub holds: fn(&Case) -> bool,
    /// The same days asked for in words that leave nothing to read differently, where there are such.
    pub restated: Option<fn(&Case) -> String>,
    /// Which of the references the class concerns.
    pub concerns: &'static [Reference],
    /// Whether we refuse such a rule.
    pub refused: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reference {
    Dateutil,
    Crate,
}

const BOTH: &[Reference] = &[Reference::Dateutil, Reference::Crate];

pub const EXEMPTIONS: &[Exemption] = &[
    Exemption {
        name: "BYDAY mixes counted and plain days",
        paragraph: "3.3.10: each BYDAY value \"can also be preceded by\" a number; both references intersect where the values unite",
        holds: |case| {
            let days = values(case, "BYDAY");
            let counted = days.iter().filter(|day| day.len() > 2).count();
            counted > 0 && counted < days.len()
        },
        restated: None,
        concerns: BOTH,
        refused: true,
    },
    Exemption {
        name: "WEEKLY with BYSETPOS, begun after one of its weekdays",
        paragraph: "3.3.10: BYSETPOS \"operates on a set of recurrence instances in one interval\", and the interval is a whole week; the references cut the first one at DTSTART",
        holds: |case| {
            let begins = values(case, "WKST").first().map_or(0, |code| place(code));
            let into_week = |day: &str| (place(&day[day.len() - 2..]) + 7 - begins) % 7;
            let start = into_week(weekday(case.start));
            let cut = values(case, "BYDAY").iter().any(|code| into_week(code) < start);
            has(case, "FREQ=WEEKLY") && has(case, "BYSETPOS") && cut
        },
        restated: None,
        concerns: BOTH,
        refused: false,
    },
    Exemption {
        name: "BYWEEKNO without a day",
        paragraph: "3.3.10: \"information, not contained in the rule, necessary to determine the various recurrence instance start time and dates\" is derived from DTSTART; the references take all seven days",
        holds: |case| {
            let names_day = ["BYDAY", "BYMONTHDAY", "BYYEARDAY"]
                .iter()
                .any(|part| has(case, part));
            has(case, "BYWEEKNO") && !names_day
        },
        restated: Some(|case| format!("{};BYDAY={}", case.text, weekday(case.start))),
        concerns: BOTH,
        refused: false,
    },
    Exemption {
        name: "BYWEEKNO=52, 53, -52 or -53 in days that belong to the neighbouring year's week",
        paragraph: "3.3.10: weeks are numbered as in ISO 8601, and negative numbers count from the year's last: 1 January 2022 lies in week 52, and a week 1 that begins in December is also week -52 or -53. python-dateutil counts the year before with this year's length, and a note in its source says that it leaves the negative numbers out; the crate follows it",
        holds: |case| {
            let weeks = values(case, "BYWEEKNO");
            weeks
                .iter()
                .any(|week| matches!(*week, "52" | "53" | "-52" | "-53"))
        },
        restated: None,
        concerns: BOTH,
        refused: false,
    },
    Exemption {
        name: "BYDAY counted to the month's or year's fifth or 53rd from the end",
        paragraph: "3.3.10: weekdaynum = [[plus / minus] ordwk] weekday, ordwk 1 to 53; the crate refuses the value",
        holds: |case| {
            let month = has(case, "FREQ=MONTHLY");
            values(case, "BYDAY")
                .iter()
                .any(|day| day.starts_with("-53") || (month && day.starts_with("-5") && day.len() == 4))
        },
        restated: None,
        concerns: &[Reference::Crate],
        refused: false,
    },
];

pub fn has(case: &Case, part: &str) -> bool {
    case.text
        .split(';')
        .any(|given| given == part || given.split_once('=').is_some_and(|(name, _)| name == part))
}

pub fn values<'a>(case: &'a Case, part: &str) -> Vec<&'a str> {
    let given = case.text.split(';').filter_map(|given| given.split_once('='));
    given
        .filter(|(name, _)| *name == part)
        .flat_map(|(_, list)| list.split(','))
        .collect()
}

pub fn weekday(day: NaiveDate) -> &'static str {
    WEEKDAYS[day.weekday().num_days_from_monday() as usize]
}

fn place(code: &str) -> usize {
    WEEKDAYS.iter().position(|day| *day == code).unwrap()
}
