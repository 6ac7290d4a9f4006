//! A tighter schedule where a check fails repeatedly: which failures count, from which day on it asks, when it no longer does, and what it reaches.

use std::collections::HashSet;

use anglestop::actions::schedules::{Words, preview};
use anglestop::domain::register::FixtureId;
use anglestop::domain::trade::{FixtureKind, PartKind};
use anglestop::store::due;
use anglestop::store::schedules::{self, Reach};
use chrono::Duration;
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom as _;
use rand::{Rng as _, SeedableRng as _};

use super::office::{Office, Stand, by, day};
use crate::support::on_both;

/// Seats once a year everywhere, and every month where they failed twice within 24 months.
fn office(fleet: &crate::support::Fleet) -> (Office<'_>, Stand) {
    let office = Office::new(fleet, "2020-01-01");
    office.only_schedule("yearly", "last_done", "P1Y", None, &["wc_seat"]);
    office.add_schedule("monthly", "last_done", "P1M", None, &["wc_seat"], |terms| {
        terms.scope.min_failures = Some(2);
    });
    let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
    (office, stand)
}

fn shown(office: &Office<'_>, stand: Stand) -> (String, String) {
    let row = office.stored(stand, "", "wc_seat").unwrap();
    (row.schedule, row.due)
}

fn is(schedule: &str, due: &str) -> (String, String) {
    (schedule.to_owned(), due.to_owned())
}

#[test]
fn the_tighter_schedule_asks_from_the_second_failure_on() {
    on_both(|fleet| {
        let (office, stand) = office(fleet);
        office.result(stand, "", "wc_seat", "pass", "2024-01-10");
        assert_eq!(shown(&office, stand), is("yearly", "2025-01-10"));
        office.result(stand, "", "wc_seat", "fail", "2025-01-10");
        assert_eq!(
            shown(&office, stand),
            is("yearly", "2026-01-10"),
            "once is not repeatedly"
        );
        office.result(stand, "", "wc_seat", "fail", "2025-06-01");
        assert_eq!(shown(&office, stand), is("monthly", "2025-07-01"));
        office.result(stand, "", "wc_seat", "pass", "2025-07-01");
        assert_eq!(
            shown(&office, stand),
            is("monthly", "2025-08-01"),
            "a pass does not undo them"
        );
        office.result(stand, "", "wc_seat", "not_checked", "2025-07-20");
        assert_eq!(shown(&office, stand), is("monthly", "2025-08-01"));
    });
}

/// Failures of 10 January 2025 and 1 June 2025; the older one counts until 9 January 2027.
#[test]
fn failures_count_for_24_months_before_the_day_it_counts_from() {
    on_both(|fleet| {
        let (office, stand) = office(fleet);
        office.result(stand, "", "wc_seat", "fail", "2025-01-10");
        office.result(stand, "", "wc_seat", "fail", "2025-06-01");
        office.result(stand, "", "wc_seat", "pass", "2027-01-09");
        assert_eq!(shown(&office, stand), is("monthly", "2027-02-09"));
        office.result(stand, "", "wc_seat", "pass", "2027-01-10");
        assert_eq!(
            shown(&office, stand),
            is("yearly", "2028-01-10"),
            "24 months to the day are over"
        );
    });
}

#[test]
fn they_are_of_the_place_and_of_the_check_alone_and_outlive_a_replacement() {
    on_both(|fleet| {
        let (office, stand) = office(fleet);
        let other = office.stand("WC-2", FixtureKind::WaterCloset, None, &[]);
        for on in ["2025-01-10", "2025-06-01"] {
            office.result(stand, "", "wc_seat", "fail", on);
            office.result(stand, "", "wc_bowl_firm", "fail", on);
        }
        office.result(other, "", "wc_seat", "pass", "2025-06-01");
        office.result(other, "", "wc_bowl_firm", "fail", "2025-06-01");
        assert_eq!(shown(&office, other), is("yearly", "2026-06-01"));
        let new = office.replace(stand, FixtureKind::WaterCloset, "2025-06-15");
        assert_eq!(
            shown(&office, new),
            is("monthly", "2025-07-15"),
            "the place keeps failing"
        );
        let before = office.as_of(stand, "", "wc_seat", "2025-05-31").unwrap();
        assert_eq!(
            before.window.due(),
            day("2026-01-10"),
            "on a past day only what had failed by then"
        );
    });
}

/// Sixteen closets that were looked at for five years and failed now and then; some were replaced, some came with a day of import.
fn failing_fleet(office: &Office<'_>) {
    let mut random = SmallRng::seed_from_u64(41);
    for number in 1..=16 {
        let installed = random.random_bool(0.5).then_some("2021-05-01");
        let parts = [(PartKind::SupplyLine, installed), (PartKind::Stop, None)];
        let label = format!("WC-{number}");
        let mut stand = office.stand(&label, FixtureKind::WaterCloset, None, &parts);
        for (part, check) in [("", "wc_seat"), ("supply_line", "supply_line_sound")] {
            for _ in 0..random.random_range(0..7) {
                let on = day("2020-02-01") + Duration::days(random.random_range(0..1_900));
                let outcome = *["pass", "fail", "fail", "not_checked"]
                    .choose(&mut random)
                    .unwrap();
                office.result(stand, part, check, outcome, &on.to_string());
            }
            if random.random_bool(0.2) {
                office.imported(stand, part, check, "2025-12-01");
            }
        }
        if random.random_bool(0.2) {
            stand = office.replace(stand, FixtureKind::WaterCloset, "2026-03-01");
            office.result(stand, "", "wc_seat", "pass", "2026-03-02");
        }
    }
}

/// Fixtures and due items by one schedule, as they stand on the due list.
fn standing(office: &Office<'_>) -> Reach {
    let rows = office.fleet.db.read(|conn| {
        let book = schedules::book(conn)?;
        due::compute_building(conn, &book, office.building, day("9999-12-31"))
    });
    let rows = rows.unwrap().rows;
    let fixtures: HashSet<FixtureId> = rows.iter().map(|(_, row)| row.fixture).collect();
    Reach {
        fixtures: fixtures.len(),
        items: rows.len(),
    }
}

#[test]
fn what_it_is_said_to_reach_is_what_comes_due_by_it() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2020-01-01");
        office.switch_all_off();
        failing_fleet(&office);
        let asked = ["wc_seat", "supply_line_sound"];
        office.add_schedule("tight", "last_done", "P1M", None, &asked, |_| {});
        let everywhere = standing(&office);
        let mut before = everywhere.items;
        for least in 1..=3 {
            office.write(|tx| {
                let known = schedules::by_code(tx, "tight").unwrap().unwrap();
                let mut terms = known.terms.clone();
                terms.scope.min_failures = Some(least);
                schedules::update(tx, &known, &terms, by()).unwrap();
                due::mark_stale(tx).unwrap();
            });
            due::renew_stale(&fleet.db).unwrap();
            office.assert_verified();
            let found = office.write(|tx| {
                let words = Words::load(tx).unwrap();
                let known = schedules::by_code(tx, "tight").unwrap().unwrap();
                preview(tx, &words, &known.terms, day("2026-09-01")).unwrap()
            });
            let expected = standing(&office);
            assert_eq!(found.reach, expected, "at least {least}");
            assert!(
                0 < expected.items && expected.items < before,
                "{least}: {expected:?}"
            );
            before = expected.items;
        }
    });
}
