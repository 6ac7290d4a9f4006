//! Days are those of the building: a result counts on the local day on which it was done, an item is overdue by the local date, and
//! neither half hours, skipped midnights, leap days nor year ends move one. Offsets are those of the IANA database (chrono-tz); the local
//! times beside each case were read off published zone tables, from memory, and each is checked against the database first.

use anglestop::clock::Now;
use anglestop::domain::due::{State, Window};
use anglestop::domain::result::Outcome;
use anglestop::store::due as due_rows;
use anglestop::store::lists::condition;
use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;
use diesel::prelude::*;

use super::stage::{Stage, of, stage};
use crate::support::on_both;

fn instant(text: &str) -> NaiveDateTime {
    text.parse().unwrap()
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn move_to(stage: &Stage, zone: &str) {
    stage
        .db
        .write(|tx| {
            diesel::sql_query(format!("UPDATE buildings SET time_zone = '{zone}'")).execute(&mut **tx)?;
            Ok(())
        })
        .unwrap();
}

/// When the bowl of a closet is due next; the built-in schedule asks a year after it was done.
fn next_due(stage: &Stage, closet: anglestop::domain::register::FixtureId) -> NaiveDate {
    stage
        .db
        .read(|conn| {
            let check = anglestop::store::checks::by_code(conn, "wc_bowl_firm")?
                .unwrap()
                .id;
            let rows = anglestop::store::lists::record::of_fixtures(conn, &[closet])?;
            Ok(rows.iter().find(|row| row.check == check).unwrap().window.due())
        })
        .unwrap()
}

/// Zone, instant (UTC), the local clock then, and the due date a year after that local day.
const DONE: [(&str, &str, &str, &str); 11] = [
    // Late in the evening and early in the morning.
    (
        "America/Chicago",
        "2026-03-01T04:30:00",
        "2026-02-28T22:30:00",
        "2027-02-28",
    ),
    (
        "America/Chicago",
        "2026-03-01T06:30:00",
        "2026-03-01T00:30:00",
        "2027-03-01",
    ),
    // Half and quarter hours.
    (
        "Asia/Kolkata",
        "2026-02-28T18:45:00",
        "2026-03-01T00:15:00",
        "2027-03-01",
    ),
    (
        "Asia/Kolkata",
        "2026-02-28T18:15:00",
        "2026-02-28T23:45:00",
        "2027-02-28",
    ),
    (
        "Asia/Kathmandu",
        "2026-02-28T18:20:00",
        "2026-03-01T00:05:00",
        "2027-03-01",
    ),
    // A shift of half an hour: summer time of Lord Howe is UTC+11, standard time +10:30.
    (
        "Australia/Lord_Howe",
        "2026-01-10T13:15:00",
        "2026-01-11T00:15:00",
        "2027-01-11",
    ),
    (
        "Australia/Lord_Howe",
        "2026-07-10T13:15:00",
        "2026-07-10T23:45:00",
        "2027-07-10",
    ),
    // The end of a year on the other side of the date line.
    (
        "Pacific/Auckland",
        "2025-12-31T11:30:00",
        "2026-01-01T00:30:00",
        "2027-01-01",
    ),
    (
        "Pacific/Honolulu",
        "2026-01-01T09:30:00",
        "2025-12-31T23:30:00",
        "2026-12-31",
    ),
    // The leap day, in a zone where UTC is still the day before, and a year on there is none.
    (
        "Asia/Tokyo",
        "2024-02-28T15:30:00",
        "2024-02-29T00:30:00",
        "2025-02-28",
    ),
    // The hour that comes twice.
    (
        "America/Chicago",
        "2025-11-02T06:30:00",
        "2025-11-02T01:30:00",
        "2026-11-02",
    ),
];

#[test]
fn a_result_counts_on_the_local_day_on_which_it_was_done() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        for (zone, at, local, due) in DONE {
            let tz: Tz = zone.parse().unwrap();
            let clock = instant(at).and_utc().with_timezone(&tz).naive_local();
            assert_eq!(clock, instant(local), "{zone}");
            // The building joined long before, so that an early result counts.
            stage
                .db
                .write(|tx| {
                    diesel::sql_query("UPDATE buildings SET joined_on = '2023-01-01'").execute(&mut **tx)?;
                    diesel::sql_query("UPDATE fixtures SET stood_from = '2023-01-01'").execute(&mut **tx)?;
                    Ok(())
                })
                .unwrap();
            move_to(&stage, zone);
            let closet = stage.water_closet();
            stage
                .db
                .write(|tx| {
                    diesel::sql_query("UPDATE fixtures SET stood_from = '2023-01-01'").execute(&mut **tx)?;
                    Ok(())
                })
                .unwrap();
            let mut seen = of(closet, "wc_bowl_firm", Outcome::Pass);
            seen.done_at = Some(instant(at));
            stage.answer("2026-11-25", seen).unwrap();
            assert_eq!(next_due(&stage, closet), day(due), "{zone} {at}");
        }
        verified(&stage);
    });
}

fn verified(stage: &Stage) {
    let found = stage
        .db
        .read(|conn| {
            let book = anglestop::store::schedules::book(conn)?;
            due_rows::differences(conn, &book, stage.building)
        })
        .unwrap();
    assert_eq!(found, []);
}

/// The last second before a local date, the first instant of it, and that date.
const TURNS: [(&str, &str, &str, &str); 6] = [
    (
        "America/Chicago",
        "2026-11-25T05:59:59",
        "2026-11-25T06:00:00",
        "2026-11-25",
    ),
    (
        "Asia/Kolkata",
        "2026-11-24T18:29:59",
        "2026-11-24T18:30:00",
        "2026-11-25",
    ),
    (
        "Australia/Lord_Howe",
        "2026-11-24T12:59:59",
        "2026-11-24T13:00:00",
        "2026-11-25",
    ),
    // Midnight is skipped: clocks go from 23:59:59 to 01:00.
    (
        "Africa/Cairo",
        "2027-04-29T21:59:59",
        "2027-04-29T22:00:00",
        "2027-04-30",
    ),
    (
        "America/Santiago",
        "2026-09-06T03:59:59",
        "2026-09-06T04:00:00",
        "2026-09-06",
    ),
    // A year begins.
    (
        "Pacific/Auckland",
        "2026-12-31T10:59:59",
        "2026-12-31T11:00:00",
        "2027-01-01",
    ),
];

#[test]
fn overdue_begins_with_the_local_date_after_the_grace_skipped_midnights_too() {
    for (zone, before, after, date) in TURNS {
        let tz: Tz = zone.parse().unwrap();
        let (eve, date) = (day(date).pred_opt().unwrap(), day(date));
        assert_eq!(Now(instant(before)).date_in(tz), eve, "{zone}");
        assert_eq!(Now(instant(after)).date_in(tz), date, "{zone}");
        let window = Window::around(eve, 5, 0);
        assert_eq!(
            window.state(Now(instant(before)).date_in(tz)),
            State::Due,
            "{zone}"
        );
        assert_eq!(
            window.state(Now(instant(after)).date_in(tz)),
            State::Overdue,
            "{zone}"
        );
    }
}

/// What was done keeps the day on which it was done; what is due keeps its date; only which day it is today is another one.
#[test]
fn a_building_that_changes_zone_keeps_its_days() {
    on_both(|fleet| {
        let stage = stage(&fleet.db);
        let closet = stage.water_closet();
        let mut seen = of(closet, "wc_bowl_firm", Outcome::Pass);
        // 22:30 on 24 November in Chicago, 10:00 on the 25th in Kolkata.
        seen.done_at = Some(instant("2026-11-25T04:30:00"));
        stage.answer("2026-11-25", seen).unwrap();
        assert_eq!(next_due(&stage, closet), day("2027-11-24"));
        move_to(&stage, "Asia/Kolkata");
        assert_eq!(next_due(&stage, closet), day("2027-11-24"));
        stage
            .db
            .write(|tx| due_rows::refresh_building(tx, stage.building))
            .unwrap();
        assert_eq!(
            next_due(&stage, closet),
            day("2027-11-24"),
            "the recorded day counts"
        );
        verified(&stage);
        let building = stage
            .db
            .read(|conn| {
                anglestop::store::buildings::by_key(
                    conn,
                    &anglestop::domain::register::person::Scope::All,
                    stage.building,
                )
            })
            .unwrap();
        let today = Now(instant("2026-11-24T19:00:00")).date_in(building.facts.time_zone);
        assert_eq!(
            today,
            day("2026-11-25"),
            "it is the 25th there at half past midnight"
        );
        let lines = stage
            .db
            .read(|conn| condition::of_building(conn, &building, today, None))
            .unwrap();
        assert_eq!(lines.0.len(), 1);
    });
}
