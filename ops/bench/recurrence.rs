//! How fast a rule finds its next date: ours against the `rrule` crate, libical and python-dateutil, on the same questions in one
//! run, with the same answers.
//!
//! `cargo bench --profile server --bench recurrence` prints the table; with `-- random 200000 [SEED]` it asks that many random rules of
//! everybody instead. libical is asked when its headers are there (Debian: libical-dev), its start set near, python-dateutil when it is
//! (python3-dateutil); what is missing is said. It fails when an answer differs.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../../tests/recurrence/outside/mod.rs"]
mod outside;
#[path = "recurrence/peers.rs"]
mod peers;
#[path = "recurrence/rows.rs"]
mod rows;

use std::hint::black_box;
use std::time::{Duration, Instant};

use anglestop::domain::recurrence::Rule;
use chrono::{Datelike, Days, NaiveDate};
use peers::{Peer, crate_set, next_of_crate};
use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};

/// Name, rule and start of the six rules the targets are set for.
const RULES: [(&str, &str, &str); 6] = [
    ("every 90 days", "FREQ=DAILY;INTERVAL=90", "2019-01-15"),
    (
        "every 6 months on the 1st",
        "FREQ=MONTHLY;INTERVAL=6;BYMONTHDAY=1",
        "2019-01-01",
    ),
    (
        "yearly, 1 October",
        "FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=1",
        "2019-01-01",
    ),
    (
        "first Monday of each quarter",
        "FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO",
        "2019-01-01",
    ),
    (
        "last weekday of the month",
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1",
        "2019-01-01",
    ),
    (
        "2nd Tuesday of January and July",
        "FREQ=YEARLY;BYMONTH=1,7;BYDAY=2TU",
        "2019-01-01",
    ),
];

/// Questions asked of ours, and of the slower ones the first so many.
const QUESTIONS: usize = 100_000;
const OF_CRATE: usize = 5_000;
const OF_LIBICAL: usize = 20_000;
const OF_DATEUTIL: usize = 400;
/// Each is timed this often, and the fastest run counts.
const RUNS: usize = 7;

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// The fastest of several runs, in nanoseconds a question.
fn fastest(runs: usize, questions: usize, mut work: impl FnMut()) -> f64 {
    let once = |work: &mut dyn FnMut()| {
        let begun = Instant::now();
        work();
        begun.elapsed()
    };
    let best: Duration = (0..runs).map(|_| once(&mut work)).min().unwrap();
    best.as_secs_f64() * 1e9 / questions as f64
}

fn next_dates() {
    let libical = Peer::libical();
    let dateutil = Peer::dateutil();
    let mut rng = SmallRng::seed_from_u64(5545);
    let begin = day("2026-01-01");
    let asked: Vec<NaiveDate> = (0..QUESTIONS)
        .map(|_| begin + Days::new(rng.random_range(0..1_826)))
        .collect();
    let numbers: Vec<i32> = asked.iter().map(Datelike::num_days_from_ce).collect();
    println!(
        "next date on or after a day of 2026 to 2030, the rule already read; ns, and how many times ours\n"
    );
    println!(
        "{:32} {:>8} {:>8} {:>16} {:>16} {:>18}",
        "rule", "ours", "by date", "rrule crate", "libical", "python-dateutil"
    );
    for (name, text, start) in RULES {
        let rule = Rule::parse(text, day(start)).unwrap();
        let answers: Vec<NaiveDate> = asked
            .iter()
            .map(|day| rule.next_on_or_after(*day).unwrap())
            .collect();
        let by_number = numbers
            .iter()
            .map(|number| rule.next_number_on_or_after(*number).unwrap());
        assert!(
            by_number.eq(answers.iter().map(Datelike::num_days_from_ce)),
            "{name}: by number and by date"
        );
        let ours = fastest(RUNS, QUESTIONS, || {
            for number in &numbers {
                black_box(rule.next_number_on_or_after(black_box(*number)));
            }
        });
        let dates = fastest(RUNS, QUESTIONS, || {
            for day in &asked {
                black_box(rule.next_on_or_after(black_box(*day)));
            }
        });
        let set = crate_set(text, day(start));
        let theirs: Vec<NaiveDate> = asked[..OF_CRATE]
            .iter()
            .map(|day| next_of_crate(&set, *day))
            .collect();
        assert!(
            theirs == answers[..OF_CRATE],
            "{name}: the crate answers otherwise"
        );
        let of_crate = fastest(3, OF_CRATE, || {
            for day in &asked[..OF_CRATE] {
                black_box(next_of_crate(&set, black_box(*day)));
            }
        });
        let of_peer = |peer: &Option<Peer>, questions: usize| {
            let peer = peer.as_ref()?;
            let (ns, found) = peer.next(text, start, &asked[..questions]);
            assert!(
                found == answers[..questions],
                "{name}: {} answers otherwise",
                peer.name
            );
            Some(ns)
        };
        let told =
            |ns: Option<f64>| ns.map_or("not here".to_owned(), |ns| format!("{ns:.0} {:.0}x", ns / ours));
        println!(
            "{name:32} {ours:>8.1} {dates:>8.1} {:>16} {:>16} {:>18}",
            told(Some(of_crate)),
            told(of_peer(&libical, OF_LIBICAL)),
            told(of_peer(&dateutil, OF_DATEUTIL))
        );
    }
}

fn expansion() {
    let (from, to) = (day("2026-01-01"), day("2030-12-31"));
    println!("\nall dates of 2026 to 2030; us, and how many times ours");
    for (name, text, start) in RULES {
        let rule = Rule::parse(text, day(start)).unwrap();
        let set = crate_set(text, day(start));
        let plainly = || -> Vec<NaiveDate> {
            let days = set.into_iter().map(|instant| instant.date_naive());
            days.skip_while(|day| *day < from)
                .take_while(|day| *day <= to)
                .collect()
        };
        assert_eq!(rule.between(from, to), plainly(), "{name}");
        let ours = fastest(RUNS, 1_000, || {
            (0..1_000).for_each(|_| drop(black_box(rule.between(black_box(from), to))))
        });
        let theirs = fastest(3, 50, || (0..50).for_each(|_| drop(black_box(plainly()))));
        println!(
            "{name:32} {:>8.2} {:>10.1} {:.0}x",
            ours / 1e3,
            theirs / 1e3,
            theirs / ours
        );
    }
}

fn main() {
    let arguments: Vec<String> = std::env::args()
        .skip(1)
        .filter(|argument| argument != "--bench")
        .collect();
    if arguments.first().is_some_and(|first| first == "random") {
        let number =
            |at: usize, default: u64| arguments.get(at).map_or(default, |text| text.parse().unwrap());
        let rules = usize::try_from(number(1, 200_000)).unwrap();
        return peers::random(rules, number(2, 7529));
    }
    next_dates();
    expansion();
    rows::five_million();
}
