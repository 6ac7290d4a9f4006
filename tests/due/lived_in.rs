//! The demo's due list with schedules that ask who lives in a unit when, recomputed by the independent script from exported files alone:
//! units and households of the register, and the turnovers that are open.

use anglestop::actions::register::{add_household, move_out};
use anglestop::actions::schedules::add;
use anglestop::clock::Now;
use anglestop::domain::due::ScheduleText;
use anglestop::domain::register::HouseholdText;
use anglestop::domain::register::person::Actor;
use anglestop::store::{households, units};

use super::exported::{Exported, anglestop};
use super::office::day;
use crate::support::{Fleet, demo, on_both};

const AT_TURNOVER: &str = "at_each_turnover";
const LIVED_IN: [&str; 2] = ["lived_in_calendar", "lived_in_interval"];

fn then() -> Now {
    Now(demo::AS_OF_INSTANT.parse().unwrap())
}

/// Households leave in May; the next ones move in days ago, or in some weeks, so that those units are vacant.
fn leave(fleet: &Fleet) {
    let (db, actor) = (&fleet.db, Actor::operator());
    let known = db.read(|conn| {
        let mut known = Vec::new();
        for unit in units::rentals(conn)? {
            known.extend(households::of_unit(conn, unit)?);
        }
        Ok(known)
    });
    let long = known
        .unwrap()
        .into_iter()
        .filter(|household| household.facts.moved_in_on < day("2026-03-01"));
    let mut left = 0;
    for (household, back) in long.zip(["2026-11-20", "2026-11-02", "2026-12-20"].iter().cycle()) {
        move_out::leave(db, &actor, then(), household.id, "2026-05-01").unwrap();
        let next = HouseholdText {
            name: "The next household".to_owned(),
            moved_in_on: (*back).to_owned(),
            ..HouseholdText::default()
        };
        add_household::add(db, &actor, then(), household.unit, &next).unwrap();
        left += 1;
    }
    assert!(left > 20, "{left} households left");
}

fn schedules(fleet: &Fleet) {
    let text = |code: &str, anchor: &str, rule: &str, vacancy: &str, checks: &[&str]| ScheduleText {
        code: code.to_owned(),
        name: code.to_owned(),
        active: "yes".to_owned(),
        anchor: anchor.to_owned(),
        rule: rule.to_owned(),
        start: if anchor == "calendar" { "2024-01-06" } else { "" }.to_owned(),
        lead_days: "5".to_owned(),
        grace_days: "9".to_owned(),
        vacancy: vacancy.to_owned(),
        checks: checks.iter().map(|check| (*check).to_owned()).collect(),
        ..ScheduleText::default()
    };
    let of_turnover = ["wc_bowl_firm", "wc_seat", "faucet_flow", "supply_line_sound"];
    let added = [
        text(AT_TURNOVER, "last_done", "P1Y", "at_turnover", &of_turnover),
        ScheduleText {
            on_closed_days: "forward".to_owned(),
            ..text(
                LIVED_IN[0],
                "calendar",
                "FREQ=MONTHLY;INTERVAL=4",
                "not_while_vacant",
                &["stop_works", "wc_base_dry"],
            )
        },
        ScheduleText {
            on_closed_days: "back".to_owned(),
            ..text(
                LIVED_IN[1],
                "last_done",
                "P7M",
                "not_while_vacant",
                &["smoke_alarm_sounds", "wc_flushes", "floor_around"],
            )
        },
    ];
    for schedule in &added {
        add(&fleet.db, &Actor::operator(), then(), schedule).unwrap();
    }
}

/// Rows of a schedule, and how many of them were moved.
fn of(rows: &[serde_json::Value], schedule: &str) -> (usize, usize) {
    let of = rows.iter().filter(|row| row["schedule"] == schedule);
    let moved = of.clone().filter(|row| !row["moved_from"].is_null());
    (of.count(), moved.count())
}

#[test]
fn the_demos_due_list_is_recomputed_alike_whoever_lives_where() {
    on_both(|fleet| {
        demo::make(fleet, 120);
        leave(fleet);
        schedules(fleet);
        anglestop(fleet, &["verify", "due"]);
        let exported = Exported::of(fleet);
        // The exports tell of what stands today, so a past day can't be recomputed from them; days to come can.
        for as_of in ["2027-06-30", demo::AS_OF] {
            let rows = exported.list(fleet, as_of);
            let (code, told) = exported.recompute(as_of);
            assert_eq!(code, Some(0), "{as_of}: {told}");
            assert!(
                told.starts_with(&format!("{} due items: no difference", rows.len())),
                "{told}"
            );
            assert!(rows.len() > 1_000, "{}", rows.len());
            let (at_turnover, moved) = of(&rows, AT_TURNOVER);
            assert!(
                at_turnover > 20 && moved == 0,
                "{at_turnover} at a turnover, {moved} moved"
            );
            for schedule in LIVED_IN {
                let (asked, moved) = of(&rows, schedule);
                assert!(
                    moved > 10 && moved < asked,
                    "{schedule}: {moved} of {asked} moved"
                );
            }
        }
    });
}

#[test]
fn the_script_notices_another_move_in_another_household_and_a_day_that_is_not_the_buildings() {
    let fleet = &crate::support::sqlite();
    demo::make(fleet, 120);
    leave(fleet);
    schedules(fleet);
    let exported = Exported::of(fleet);
    exported.list(fleet, demo::AS_OF);
    let altered = |name: &str, from: &str, to: &str| {
        let path = exported.file(name);
        let before = std::fs::read_to_string(&path).unwrap();
        let after = before.replace(from, to);
        assert_ne!(before, after, "{name} has no {from}");
        std::fs::write(&path, after).unwrap();
        let told = exported.recompute(demo::AS_OF);
        std::fs::write(&path, before).unwrap();
        told
    };
    let (code, told) = altered("turnovers.csv", "2026-12-05", "2026-12-06");
    assert_eq!(code, Some(1), "{told}");
    assert!(
        told.contains("due is 2026-12-05, recomputed 2026-12-06"),
        "{told}"
    );
    let (code, told) = altered("turnovers.csv", ",found,", ",cancelled,");
    assert_eq!(code, Some(1), "{told}");
    let (code, told) = altered("register/households.csv", "2026-11-20", "2026-11-19");
    assert_eq!(code, Some(1), "{told}");
    let (code, told) = altered("register/units.csv", ",vacant,", ",occupied,");
    assert_eq!(code, Some(1), "{told}");
    assert!(told.contains("recomputed lived_in_calendar"), "{told}");
    let (code, told) = altered("turnovers.csv", "T17:00:00Z,2026-11-23", "T17:00:00Z,2026-11-24");
    assert_eq!(code, Some(2), "{told}");
    assert!(told.contains("in the zone of"), "{told}");
    assert_eq!(exported.recompute(demo::AS_OF).0, Some(0));
}
