//! A change of every schedule of the fleet, its rows laid beside those in use and taken into use, while results are recorded; against
//! the database's own copy of the same rows.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use anglestop::domain::due::{Terms, read_timing};
use anglestop::store::due::{self, Pace, Step};
use anglestop::store::schedules;
use diesel::prelude::*;

use super::made::{Made, now};
use super::record::pass;
use super::timing::{milliseconds, percentile, timed};

pub fn measure(fleet: &Made) {
    let rows = fleet.count("due_items");
    let copied = copy(fleet);
    alter(fleet);
    let going = AtomicBool::new(true);
    let (laid, whole, recorded) = std::thread::scope(|threads| {
        let recorder = threads.spawn(|| {
            let mut all = Vec::new();
            while going.load(Ordering::Acquire) {
                all.push(timed(|| pass(fleet, 1_000 + all.len())).1);
                std::thread::sleep(Duration::from_millis(50));
            }
            all.sort_unstable();
            all
        });
        let mut laid = Duration::ZERO;
        let begun = std::time::Instant::now();
        due::renew_by(&fleet.db, Pace::default(), &mut |step| {
            if step == Step::InUse {
                laid = begun.elapsed();
            }
            true
        })
        .unwrap();
        let whole = begun.elapsed();
        going.store(false, Ordering::Release);
        (laid, whole, recorder.join().unwrap())
    });
    let ratio = |time: Duration| time.as_secs_f64() / copied.as_secs_f64();
    println!(
        "a change of all {rows} due rows: in use after {:.1} s, {:.2} times the database's own copy of them ({:.1} s); \
         the old ones removed after {:.1} s ({:.2} times)",
        laid.as_secs_f64(),
        ratio(laid),
        copied.as_secs_f64(),
        whole.as_secs_f64(),
        ratio(whole)
    );
    if let Some(slowest) = recorded.last() {
        println!(
            "  {} results recorded meanwhile: p50 {:.1} ms, p99 {:.1} ms, slowest {:.1} ms",
            recorded.len(),
            milliseconds(percentile(&recorded, 50)),
            milliseconds(percentile(&recorded, 99)),
            milliseconds(*slowest)
        );
    }
    assert_eq!(fleet.count("due_rows"), fleet.count("due_items"));
}

/// Copies the due rows within the database into a table with the same indexes.
fn copy(fleet: &Made) -> Duration {
    let columns = "turn, fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from";
    let prepare: Vec<String> = if fleet.is_sqlite {
        let table: String = definition(fleet, "table", "due_rows").replace("due_rows", "copied_rows");
        let indexes = ["last_day", "building", "unit", "due"];
        let indexes = indexes.map(|name| {
            definition(fleet, "index", &format!("due_rows_{name}")).replace("due_rows", "copied_rows")
        });
        [table].into_iter().chain(indexes).collect()
    } else {
        vec!["CREATE TABLE copied_rows (LIKE due_rows INCLUDING ALL)".to_owned()]
    };
    let run = |statement: &str| {
        fleet
            .db
            .write(|tx| Ok(diesel::sql_query(statement).execute(&mut **tx)?))
            .unwrap()
    };
    for statement in &prepare {
        run(statement);
    }
    let copy = format!(
        "INSERT INTO copied_rows ({columns}) SELECT {columns} FROM due_rows ORDER BY turn, fixture_id, part, check_id"
    );
    let (_, took) = timed(|| run(&copy));
    run("DROP TABLE copied_rows");
    took
}

#[derive(QueryableByName)]
struct Text {
    #[diesel(sql_type = diesel::sql_types::Text)]
    sql: String,
}

fn definition(fleet: &Made, kind: &str, name: &str) -> String {
    fleet
        .db
        .read(|conn| {
            let query = format!("SELECT sql FROM sqlite_master WHERE type = '{kind}' AND name = '{name}'");
            Ok(diesel::sql_query(query).get_result::<Text>(conn)?.sql)
        })
        .unwrap()
}

/// Gives every yearly schedule another interval, without renewing anything yet.
fn alter(fleet: &Made) {
    fleet
        .db
        .write(|tx| {
            for schedule in schedules::load_all(tx)? {
                if !schedule.terms.active || schedule.terms.timing.anchor().code() != "last_done" {
                    continue;
                }
                let terms = Terms {
                    timing: read_timing("last_done", "P8M", None, 14, 21, None).unwrap(),
                    ..schedule.terms.clone()
                };
                let by = schedules::By {
                    at: now().0,
                    person: None,
                };
                schedules::update(tx, &schedule, &terms, by)?;
            }
            due::mark_stale(tx)
        })
        .unwrap();
}
