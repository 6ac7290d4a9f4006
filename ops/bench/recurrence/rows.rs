//! Five million rows in memory, each with a rule of 64 and a day: one call a row, and by tables that rows of a rule share.

use std::hint::black_box;

use anglestop::domain::recurrence::{DayTable, Rule};
use chrono::{Datelike, Days, NaiveDate};
use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};

use super::peers::{crate_set, next_of_crate};
use super::{RULES, day, fastest};

const ROWS: usize = 5_000_000;
const RULES_SHARED: usize = 64;
/// Of the rows, how many the crate is asked: it is slow.
const OF_CRATE: usize = 10_000;

/// The six rules with other starts, until there are 64.
fn rules() -> Vec<(&'static str, NaiveDate)> {
    let spread = (0..RULES_SHARED).map(|at| {
        let (_, text, start) = RULES[at % RULES.len()];
        (text, day(start) + Days::new(31 * (at / RULES.len()) as u64))
    });
    spread.collect()
}

pub fn five_million() {
    let begin = day("2026-01-01");
    let texts = rules();
    let rules: Vec<Rule> = texts
        .iter()
        .map(|(text, start)| Rule::parse(text, *start).unwrap())
        .collect();
    let mut rng = SmallRng::seed_from_u64(64);
    let rows: Vec<(u8, u16)> = (0..ROWS)
        .map(|_| {
            (
                rng.random_range(0..RULES_SHARED as u8),
                rng.random_range(0..1_826),
            )
        })
        .collect();
    let first = begin.num_days_from_ce();
    let call = |(rule, offset): &(u8, u16)| {
        rules[usize::from(*rule)]
            .next_number_on_or_after(first + i32::from(*offset))
            .unwrap()
    };
    let mut answers = vec![0; ROWS];
    let calls = fastest(5, ROWS, || {
        for (answer, row) in answers.iter_mut().zip(&rows) {
            *answer = call(row);
        }
        black_box(&answers);
    });

    let sets: Vec<_> = texts
        .iter()
        .map(|(text, start)| crate_set(text, *start))
        .collect();
    let plainly = |row: &(u8, u16)| next_of_crate(&sets[usize::from(row.0)], begin + Days::new(row.1.into()));
    let sample = &rows[..OF_CRATE];
    let found: Vec<i32> = sample.iter().map(|row| plainly(row).num_days_from_ce()).collect();
    assert!(found == answers[..OF_CRATE], "the crate answers otherwise");
    let of_crate = fastest(3, OF_CRATE, || {
        for row in sample {
            black_box(plainly(row));
        }
    });

    let until = begin + Days::new(1_825);
    let made = || {
        rules
            .iter()
            .map(|rule| rule.table(begin, until))
            .collect::<Vec<DayTable>>()
    };
    let mut by_table = vec![0; ROWS];
    let tables = fastest(5, ROWS, || {
        let tables = made();
        for (answer, (rule, offset)) in by_table.iter_mut().zip(&rows) {
            *answer = first + i32::from(tables[usize::from(*rule)].next_offset(*offset));
        }
        black_box(&by_table);
    });
    assert!(by_table == answers, "by table");

    let mut grouped: Vec<Vec<u16>> = vec![Vec::new(); RULES_SHARED];
    rows.iter()
        .for_each(|(rule, offset)| grouped[usize::from(*rule)].push(*offset));
    let mut next = grouped.clone();
    let groups = fastest(5, ROWS, || {
        let tables = made();
        for ((table, asked), found) in tables.iter().zip(&grouped).zip(&mut next) {
            table.next_for_all(asked, found);
        }
        black_box(&next);
    });
    let mut places = [0; RULES_SHARED];
    for ((rule, _), answer) in rows.iter().zip(&answers) {
        let rule = usize::from(*rule);
        assert_eq!(first + i32::from(next[rule][places[rule]]), *answer, "grouped");
        places[rule] += 1;
    }

    let ms = |ns: f64| ns * ROWS as f64 / 1e6;
    println!("\nfive million rows of 64 rules in random order, in memory, one thread; ms for all");
    println!(
        "{:44} {:>10.1}  ({OF_CRATE} rows, times {})",
        "the rrule crate from the start",
        ms(of_crate),
        ROWS / OF_CRATE
    );
    println!(
        "{:44} {:>10.1}  {:.0} times the crate",
        "one call a row",
        ms(calls),
        of_crate / calls
    );
    println!(
        "{:44} {:>10.1}  {:.1} times one call a row",
        "a table a rule, its making included",
        ms(tables),
        calls / tables
    );
    println!(
        "{:44} {:>10.1}  {:.1} times one call a row",
        "rows grouped by rule, tables included",
        ms(groups),
        calls / groups
    );
}
