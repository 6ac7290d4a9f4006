//! Calendar rules and intervals: the days they fall on, what is refused, and how they read.

mod equal;
mod intervals;
mod laws;
mod naive;
mod outside;
mod references;
mod refusals;
mod rules;
mod words;

use anglestop::domain::recurrence::Rule;
use chrono::NaiveDate;

/// "2026-02-28" as a day.
fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn rule(text: &str, start: &str) -> Rule {
    Rule::parse(text, day(start)).unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// The first `count` occurrences on or after `from`.
fn take(rule: &Rule, from: NaiveDate, count: usize) -> Vec<NaiveDate> {
    std::iter::successors(rule.next_on_or_after(from), |last| rule.next_after(*last))
        .take(count)
        .collect()
}
