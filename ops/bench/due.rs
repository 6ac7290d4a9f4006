//! How long the due dates of a large fleet take: ours against the `rrule` crate asked the plain way, on the same work, with the same
//! answers. `cargo bench --profile server --bench due` prints both and the ratio; it fails when an answer differs.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use anglestop::domain::due::{History, Timing, next_due, read_timing};
use chrono::{Days, NaiveDate, NaiveTime, TimeZone as _};
use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};
use rrule::{RRule, RRuleSet, Tz, Unvalidated};

/// Due items, as many as a fleet of 250,000 fixtures has.
const ITEMS: usize = 1_000_000;
/// Of those, how many the plain way is asked: it is slow.
const SAMPLE: usize = 10_000;

const RULES: [(&str, &str); 5] = [
    ("FREQ=YEARLY", "2020-10-01"),
    ("FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO", "2020-01-01"),
    ("FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1", "2020-01-31"),
    ("FREQ=WEEKLY;INTERVAL=2", "2020-01-06"),
    ("FREQ=YEARLY;BYMONTH=4;BYMONTHDAY=15", "2020-04-15"),
];

struct Asked {
    rule: usize,
    done: NaiveDate,
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// The first occurrence after what a result on this day satisfies, as the crate finds it from the rule's start.
fn plainly(set: &RRuleSet, satisfied: NaiveDate) -> NaiveDate {
    set.into_iter()
        .map(|instant| instant.date_naive())
        .find(|occurrence| *occurrence > satisfied)
        .unwrap()
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let begun = Instant::now();
    let answer = work();
    (answer, begun.elapsed())
}

fn main() {
    let joined = day("2020-01-01");
    let timings: Vec<Timing> = RULES
        .iter()
        .map(|(rule, start)| read_timing("calendar", rule, Some(day(start)), 2, 3, None).unwrap())
        .collect();
    let sets: Vec<RRuleSet> = RULES
        .iter()
        .map(|(rule, start)| {
            let midnight = Tz::UTC.from_utc_datetime(&day(start).and_time(NaiveTime::MIN));
            let rule: RRule<Unvalidated> = rule.parse().unwrap();
            rule.build(midnight).unwrap()
        })
        .collect();
    let mut rng = SmallRng::seed_from_u64(1);
    let asked: Vec<Asked> = (0..ITEMS)
        .map(|_| Asked {
            rule: rng.random_range(0..RULES.len()),
            done: joined + Days::new(rng.random_range(0..2_500)),
        })
        .collect();
    let ours = |asked: &Asked| {
        let history = History {
            done: Some(asked.done),
            ..History::joined(joined)
        };
        next_due(&timings[asked.rule], &history).unwrap().window.due()
    };
    let theirs = |asked: &Asked| {
        let early = u64::from(timings[asked.rule].early_days());
        plainly(&sets[asked.rule], asked.done + Days::new(early))
    };

    let (ours_sample, _) = timed(|| asked[..SAMPLE].iter().map(ours).collect::<Vec<_>>());
    let (theirs_sample, plain) = timed(|| asked[..SAMPLE].iter().map(theirs).collect::<Vec<_>>());
    assert_eq!(ours_sample, theirs_sample, "the two ways must agree");
    let (_, table) = timed(|| {
        for asked in &asked {
            black_box(ours(asked));
        }
    });

    let each = |took: Duration, items: usize| took.as_secs_f64() * 1e9 / items as f64;
    let (plain_ns, table_ns) = (each(plain, SAMPLE), each(table, ITEMS));
    println!(
        "{ITEMS} due items, {} rules: {table:.2?}, {table_ns:.0} ns each",
        RULES.len()
    );
    println!("the rrule crate asked from the start, {SAMPLE} of them: {plain:.2?}, {plain_ns:.0} ns each");
    println!("ratio {:.0}", plain_ns / table_ns);
}
