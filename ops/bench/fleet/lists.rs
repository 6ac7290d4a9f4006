//! The overdue list and the counts at the database, for a manager of 3 buildings, of 300 and of all.

use std::collections::HashMap;
use std::time::Duration;

use anglestop::domain::due::State;
use anglestop::domain::register::BuildingId;
use anglestop::domain::register::person::Scope;
use anglestop::store::lists::due::{self, Cursor, Desk, Filter, Wanted};

use super::made::{Made, now};
use super::record::pass;
use super::timing::{percentile, timed, times, told};

const RUNS: usize = 200;
const ROWS: usize = 51;
const PAGES: usize = 1_000;

/// Somebody, as far as they see buildings.
pub fn scopes(fleet: &Made) -> Vec<(String, Scope)> {
    let all = fleet.count("buildings");
    let first = |count: i64| {
        let step = (all / count).max(1);
        Scope::Buildings((0..count).map(|at| BuildingId(1 + at * step)).collect())
    };
    let mut scopes = vec![("3 buildings".to_owned(), first(3))];
    if all >= 300 {
        scopes.push(("300 buildings".to_owned(), first(300)));
    }
    scopes.push((format!("all {all} buildings"), Scope::All));
    scopes
}

/// The p99 of each scope in the smallest fleet that has it.
pub type Smallest = HashMap<String, Duration>;

/// Prints them, each scope with its ratio to the smallest fleet that has it.
pub fn measure(fleet: &Made, smallest: &mut Smallest) {
    let filter = Filter {
        wanted: Wanted::Only(State::Overdue),
        ..Filter::default()
    };
    for (name, scope) in scopes(fleet) {
        let read = |after: Option<&Cursor>, desk: &Desk| {
            fleet
                .db
                .read(|conn| due::page_anew(conn, desk, &filter, after, ROWS))
                .unwrap()
        };
        let desk = fleet.db.read(|conn| Desk::load(conn, &scope, now())).unwrap();
        let mut last = None;
        let mut reached = 0;
        for _ in 0..PAGES {
            let lines = read(last.as_ref(), &desk);
            if lines.len() < ROWS {
                break;
            }
            last = lines.last().map(anglestop::store::lists::due::Line::cursor);
            reached += 1;
        }
        let first = times(RUNS, |_| drop(read(None, &desk)));
        let far = times(RUNS, |_| drop(read(last.as_ref(), &desk)));
        let worst = percentile(&first, 99).max(percentile(&far, 99));
        let whose = if scope == Scope::All { "all" } else { name.as_str() };
        let least = *smallest.entry(whose.to_owned()).or_insert(worst);
        println!(
            "overdue, {name}: page 1 {}; page {} {}; worst p99 {:.2} times that of the smallest fleet",
            told(&first),
            reached + 1,
            told(&far),
            worst.as_secs_f64() / least.as_secs_f64()
        );
        let whole = times(20, |_| {
            fleet.db.read(|conn| Desk::load(conn, &scope, now())).unwrap();
        });
        println!("  its buildings, checks and people: {}", told(&whole));
    }
    counts(fleet);
}

/// How much is overdue, due and in its window in every building: counted from nothing, and counted again after a result was recorded.
fn counts(fleet: &Made) {
    let desk = fleet
        .db
        .read(|conn| Desk::load(conn, &Scope::All, now()))
        .unwrap();
    let filter = Filter::default();
    let anew = || {
        fleet
            .db
            .read(|conn| due::count_anew(conn, &desk, &filter))
            .unwrap()
    };
    let again = || fleet.db.read(|conn| due::counts(conn, &desk, &filter)).unwrap();
    let from_nothing = times(20, |_| assert!(anew().buildings() > 0));
    again();
    let mut after_a_result: Vec<Duration> = (0..50)
        .map(|at| {
            pass(fleet, 20_000 + at);
            timed(|| drop(again())).1
        })
        .collect();
    after_a_result.sort_unstable();
    assert_eq!(*again(), anew());
    println!(
        "counts of {} buildings: from nothing {}; after a result {}",
        desk.places.len(),
        told(&from_nothing),
        told(&after_a_result)
    );
}
