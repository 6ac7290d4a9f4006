//! A change of a schedule is laid beside the rows in use and taken into use all at once, while results go on being recorded.

use anglestop::domain::due::{Terms, read_timing};
use anglestop::domain::trade::FixtureKind;
use anglestop::store::due::{self, Pace, Step};
use anglestop::store::{schedules, settings};
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Date, Text};

use super::office::{Office, Stand, by};
use crate::support::{on_both, sqlite};

const CHECK: &str = "wc_bowl_firm";

/// However few there are, all are laid.
const LAYING: Pace = Pace { laid: 2, at_once: 0 };

#[derive(QueryableByName)]
struct Shown {
    #[diesel(sql_type = BigInt)]
    fixture_id: i64,
    #[diesel(sql_type = Text)]
    code: String,
    #[diesel(sql_type = Date)]
    due: chrono::NaiveDate,
}

#[derive(QueryableByName)]
struct Count {
    #[diesel(sql_type = BigInt)]
    count: i64,
}

/// The due dates that lists show, by fixture.
fn shown(office: &Office<'_>) -> Vec<(i64, String, String)> {
    let rows: Vec<Shown> = office
        .fleet
        .db
        .read(|conn| {
            Ok(diesel::sql_query(
                "SELECT d.fixture_id, s.code, d.due FROM due_items d JOIN schedules s ON s.id = d.schedule_id ORDER BY d.fixture_id",
            )
            .load(conn)?)
        })
        .unwrap();
    rows.into_iter()
        .map(|row| (row.fixture_id, row.code, row.due.to_string()))
        .collect()
}

fn count(office: &Office<'_>, of: &str) -> i64 {
    let found: Count = office
        .fleet
        .db
        .read(|conn| Ok(diesel::sql_query(format!("SELECT count(*) AS count FROM {of}")).get_result(conn)?))
        .unwrap();
    found.count
}

/// Five bowls that are due a year after the building joined.
fn five<'f>(fleet: &'f crate::support::Fleet) -> (Office<'f>, Vec<Stand>) {
    let office = Office::new(fleet, "2026-01-05");
    office.only_schedule("bowls", "last_done", "P1Y", None, &[CHECK]);
    let stands = (1..=5)
        .map(|at| office.stand(&format!("WC-{at}"), FixtureKind::WaterCloset, None, &[]))
        .collect();
    (office, stands)
}

/// Gives the schedule another interval, without renewing anything.
fn ask_every(office: &Office<'_>, interval: &str) {
    office.write(|tx| {
        let schedule = schedules::by_code(tx, "bowls").unwrap().unwrap();
        let terms = Terms {
            timing: read_timing("last_done", interval, None, 5, 10, None).unwrap(),
            ..schedule.terms.clone()
        };
        schedules::update(tx, &schedule, &terms, by()).unwrap();
        due::mark_stale(tx).unwrap();
    });
}

/// Switches the schedule off, without renewing anything.
fn switch_off(office: &Office<'_>) {
    office.write(|tx| {
        let schedule = schedules::by_code(tx, "bowls").unwrap().unwrap();
        let mut terms = schedule.terms.clone();
        terms.active = false;
        schedules::update(tx, &schedule, &terms, by()).unwrap();
        due::mark_stale(tx).unwrap();
    });
}

#[test]
fn lists_show_the_dates_of_before_until_all_are_laid_and_then_the_new_ones() {
    on_both(|fleet| {
        let (office, stands) = five(fleet);
        let before = shown(&office);
        ask_every(&office, "P6M");
        let mut steps = Vec::new();
        due::renew_by(&office.fleet.db, LAYING, &mut |step| {
            steps.push(step);
            let now = shown(&office);
            if step == Step::Laid {
                assert_eq!(now, before, "after {steps:?}");
                assert!(
                    !office.differences().is_empty(),
                    "the rows in use are those of before"
                );
            } else {
                assert_eq!(now.len(), stands.len());
                assert!(now.iter().all(|(_, _, due)| due.starts_with("2026-0")), "{now:?}");
            }
            true
        })
        .unwrap();
        assert_eq!(
            steps,
            [Step::Laid, Step::Laid, Step::Laid, Step::InUse, Step::Swept]
        );
        office.assert_verified();
        assert_eq!(count(&office, "due_rows"), count(&office, "due_items"));
    });
}

#[test]
fn what_is_recorded_meanwhile_counts_at_once_and_after_the_switch() {
    on_both(|fleet| {
        let (office, stands) = five(fleet);
        let before = shown(&office);
        ask_every(&office, "P6M");
        let mut laid = 0;
        due::renew_by(&office.fleet.db, LAYING, &mut |step| {
            if step == Step::Laid {
                // One whose rows are laid already, then one whose are not.
                let stand = stands[if laid == 0 { 0 } else { 4 }];
                office.result(stand, "", CHECK, "pass", "2026-08-31");
                let now = shown(&office);
                let at = |shown: &[(i64, String, String)]| {
                    let row = shown.iter().find(|(fixture, ..)| *fixture == stand.fixture.0);
                    row.unwrap().2.clone()
                };
                assert_eq!(at(&now), "2027-02-28");
                assert_ne!(at(&before), at(&now));
                assert_eq!(now.len(), stands.len(), "each is shown once");
                laid += 1;
            }
            true
        })
        .unwrap();
        assert_eq!(laid, 3);
        office.assert_verified();
        let due = office.stored(stands[0], "", CHECK).unwrap().due;
        assert_eq!(due, "2027-02-28");
        assert_eq!(count(&office, "due_rows"), count(&office, "due_items"));
    });
}

#[test]
fn a_change_while_rows_are_laid_begins_anew_and_one_taken_back_changes_nothing() {
    on_both(|fleet| {
        let (office, _) = five(fleet);
        let before = shown(&office);
        ask_every(&office, "P6M");
        due::renew_by(&office.fleet.db, LAYING, &mut |_| false).unwrap();
        assert!(
            count(&office, "due_rows") > count(&office, "due_items"),
            "two were laid"
        );
        ask_every(&office, "P1Y");
        due::renew_by(&office.fleet.db, LAYING, &mut |_| {
            assert_eq!(shown(&office), before);
            true
        })
        .unwrap();
        office.assert_verified();
        assert_eq!(shown(&office), before);
        assert_eq!(count(&office, "due_rows"), count(&office, "due_items"));
    });
}

#[test]
fn what_a_schedule_asks_no_more_is_shown_until_the_switch_and_then_gone() {
    on_both(|fleet| {
        let (office, stands) = five(fleet);
        switch_off(&office);
        due::renew_by(&office.fleet.db, LAYING, &mut |step| {
            let expected = if step == Step::Laid { stands.len() } else { 0 };
            assert_eq!(shown(&office).len(), expected);
            true
        })
        .unwrap();
        assert_eq!(count(&office, "due_rows"), 0);
    });
}

/// Another process may have begun to lay, and a change may have come, while this one looked: what was laid under the change before must
/// not come into use.
#[test]
fn rows_laid_under_a_change_that_was_taken_back_never_come_into_use() {
    on_both(|fleet| {
        let (office, _) = five(fleet);
        ask_every(&office, "P6M");
        let looking = Pace { laid: 2, at_once: 1 };
        let mut others = Vec::new();
        let mut steps = Vec::new();
        due::renew_by(&office.fleet.db, looking, &mut |step| {
            steps.push(step);
            if others.is_empty() {
                due::renew_by(&office.fleet.db, LAYING, &mut |step| {
                    others.push(step);
                    false
                })
                .unwrap();
                switch_off(&office);
            }
            true
        })
        .unwrap();
        assert_eq!(others, [Step::Laid]);
        assert!(steps.contains(&Step::InUse), "{steps:?}");
        office.assert_verified();
        assert_eq!(count(&office, "due_items"), 0);
        assert_eq!(count(&office, "due_rows"), 0);
    });
}

/// Few differences are put right without a turn, and what was read meanwhile is read anew.
#[test]
fn a_few_fixtures_are_put_right_at_once_and_one_more_lays_all() {
    on_both(|fleet| {
        let (office, _) = five(fleet);
        let live = || office.fleet.db.read(due::live).unwrap();
        let mark = || {
            office
                .fleet
                .db
                .read(|conn| settings::get(conn, "desk.mark"))
                .unwrap()
        };
        let renew = |at_once: usize| {
            let mut steps = Vec::new();
            due::renew_by(&office.fleet.db, Pace { laid: 9, at_once }, &mut |step| {
                steps.push(step);
                true
            })
            .unwrap();
            office.assert_verified();
            assert_eq!(count(&office, "due_rows"), 5);
            steps
        };
        let before = live();
        ask_every(&office, "P6M");
        let stale = mark();
        assert_eq!(renew(5), [Step::Looked, Step::InUse]);
        assert_eq!(live(), before);
        assert_ne!(mark(), stale);
        ask_every(&office, "P3M");
        assert_eq!(renew(4), [Step::Looked, Step::Laid, Step::InUse, Step::Swept]);
        assert_eq!(live(), before + 1);
    });
}

/// A change that comes between looking and writing is looked at again.
#[test]
fn what_changes_after_it_was_looked_is_looked_at_again() {
    on_both(|fleet| {
        let (office, _) = five(fleet);
        ask_every(&office, "P6M");
        let mut looked = 0;
        due::renew_by(&office.fleet.db, Pace::default(), &mut |step| {
            looked += usize::from(step == Step::Looked);
            if step == Step::Looked && looked == 1 {
                switch_off(&office);
            }
            true
        })
        .unwrap();
        assert_eq!(looked, 2);
        office.assert_verified();
        assert_eq!(count(&office, "due_rows"), 0);
    });
}

#[derive(QueryableByName)]
struct Plan {
    #[diesel(sql_type = Text)]
    detail: String,
}

/// A turn holds every row, so an index that begins with it may serve a range of days and nothing else. SQLite's planner would not know
/// without being told in the view.
#[test]
fn what_names_a_unit_a_fixture_or_a_building_is_looked_up_by_that() {
    let fleet = sqlite();
    let asked = [
        ("unit_id = 3", "due_rows_unit (unit_id="),
        ("fixture_id = 3", "PRIMARY KEY (fixture_id="),
        (
            "fixture_id IN (SELECT value FROM json_each('[3,4]'))",
            "PRIMARY KEY (fixture_id=",
        ),
        (
            "building_id = 3 AND due <= '2026-09-01'",
            "due_rows_building (building_id=",
        ),
        (
            "building_id IN (3, 4) AND last_day < '2026-09-01'",
            "due_rows_building (building_id=",
        ),
        (
            "last_day < '2026-09-01'",
            "due_rows_last_day (turn=? AND last_day<",
        ),
        ("due < '2026-09-01'", "due_rows_due (turn=? AND due<"),
    ];
    for (condition, index) in asked {
        let query = format!("EXPLAIN QUERY PLAN SELECT * FROM due_items WHERE {condition}");
        let plan: Vec<Plan> = fleet
            .db
            .read(|conn| Ok(diesel::sql_query(&query).load(conn)?))
            .unwrap();
        let details: Vec<&str> = plan.iter().map(|plan| plan.detail.as_str()).collect();
        assert!(
            details.iter().any(|detail| detail.contains(index)),
            "{condition}: {details:?}"
        );
    }
}
