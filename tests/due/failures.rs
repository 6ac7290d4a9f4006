//! A tighter schedule where a check fails repeatedly: which failures count, from which day on it asks, and when it no longer does.

use anglestop::domain::trade::FixtureKind;

use super::office::{Office, Stand, day};
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
