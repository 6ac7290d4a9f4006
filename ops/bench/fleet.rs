//! What a large fleet costs: import, lists, counts, pages, recording, a change of a schedule, the condition as a CSV, memory; on SQLite
//! and, when `ANGLESTOP_TEST_POSTGRES` names a server, on PostgreSQL.
//!
//! `cargo bench --profile server --bench fleet` measures fleets of 10,000, 100,000 and 1,000,000 fixtures, with `-- 100000` that one.
//! The named references are asked the same work in the same run: the database's own copy of the due rows, with the same indexes, for a
//! change of a schedule; the `sqlite3` shell writing the same joined rows for the condition; the smallest fleet for the lists.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "fleet/change.rs"]
mod change;
#[path = "fleet/condition.rs"]
mod condition;
#[path = "fleet/lists.rs"]
mod lists;
#[path = "fleet/made.rs"]
mod made;
#[path = "fleet/pages.rs"]
mod pages;
#[path = "fleet/record.rs"]
mod record;
#[path = "fleet/timing.rs"]
mod timing;

use made::{Database, Made};

const SIZES: [usize; 3] = [10_000, 100_000, 1_000_000];

fn main() {
    let asked: Vec<usize> = std::env::args()
        .filter_map(|argument| argument.parse().ok())
        .collect();
    let sizes = if asked.is_empty() { SIZES.to_vec() } else { asked };
    let mut databases = vec![Database::Sqlite];
    match std::env::var("ANGLESTOP_TEST_POSTGRES") {
        Ok(server) => databases.push(Database::Postgres(server)),
        Err(_) => println!("PostgreSQL: not measured, ANGLESTOP_TEST_POSTGRES names no server"),
    }
    let only = std::env::var("ANGLESTOP_BENCH_ONLY").unwrap_or_default();
    databases.retain(|database| only.is_empty() || database.name() == only);
    for database in &databases {
        let mut smallest = lists::Smallest::new();
        for size in &sizes {
            println!("\n== {}, {size} fixtures", database.name());
            let fleet = Made::import(database, *size);
            lists::measure(&fleet, &mut smallest);
            pages::measure(&fleet);
            record::measure(&fleet);
            condition::measure(&fleet);
            change::measure(&fleet);
        }
    }
}
