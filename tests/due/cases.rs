//! Which facts make what due: each case from the register and the results to the stored row, on both databases.

use anglestop::domain::trade::{FixtureKind, PartKind};
use chrono::{Datelike, NaiveDate};

use super::office::{Office, Shown, Stand, by, day};
use crate::support::{Fleet, on_both};

const JOINED: &str = "2024-01-15";

/// A water closet of unknown age in an office that joined on 15 January 2024, with one yearly schedule for its bowl, 5 days before and
/// 10 after.
fn bowl(fleet: &Fleet) -> (Office<'_>, Stand) {
    let office = Office::new(fleet, JOINED);
    office.only_schedule("bowls", "last_done", "P1Y", None, &["wc_bowl_firm"]);
    let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
    (office, stand)
}

fn due(shown: Option<Shown>) -> (String, String, String) {
    let shown = shown.expect("a due row");
    (shown.basis, shown.counts_from, shown.due)
}

fn row(basis: &str, counts_from: &str, due: &str) -> (String, String, String) {
    (basis.to_owned(), counts_from.to_owned(), due.to_owned())
}

#[test]
fn a_pass_and_a_fail_count_and_not_checked_satisfies_nothing() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        office.result(wc, "", "wc_bowl_firm", "pass", "2025-03-01");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("done", "2025-03-01", "2026-03-01")
        );
        office.result(wc, "", "wc_bowl_firm", "not_checked", "2026-02-01");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("done", "2025-03-01", "2026-03-01")
        );
        office.result(wc, "", "wc_bowl_firm", "fail", "2026-02-20");
        let shown = office.stored(wc, "", "wc_bowl_firm").unwrap();
        let expected = Shown {
            schedule: "bowls".to_owned(),
            basis: "done".to_owned(),
            counts_from: "2026-02-20".to_owned(),
            opens: "2027-02-15".to_owned(),
            due: "2027-02-20".to_owned(),
            last_day: "2027-03-02".to_owned(),
        };
        assert_eq!(shown, expected);
    });
}

#[test]
fn a_result_that_is_sent_late_does_not_undo_a_later_one() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        office.result(wc, "", "wc_bowl_firm", "pass", "2026-03-01");
        office.result(wc, "", "wc_bowl_firm", "pass", "2025-03-01");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("done", "2026-03-01", "2027-03-01")
        );
    });
}

#[test]
fn installed_while_in_the_register_counts_as_done_that_day() {
    on_both(|fleet| {
        let (office, _) = bowl(fleet);
        let new = office.stand("WC-2", FixtureKind::WaterCloset, Some("2025-06-10"), &[]);
        assert_eq!(
            due(office.stored(new, "", "wc_bowl_firm")),
            row("installed", "2025-06-10", "2026-06-10")
        );
        let old = office.stand("WC-3", FixtureKind::WaterCloset, Some("2024-01-14"), &[]);
        let shown = office.stored(old, "", "wc_bowl_firm").unwrap();
        assert_eq!(
            (shown.basis.as_str(), shown.counts_from.as_str()),
            ("joined", JOINED)
        );
    });
}

#[test]
fn an_imported_last_done_counts_as_done_but_nothing_is_due_before_the_building_joined() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        office.imported(wc, "", "wc_bowl_firm", "2023-11-20");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("imported", "2023-11-20", "2024-11-20")
        );
        let other = office.stand("WC-2", FixtureKind::WaterCloset, None, &[]);
        office.imported(other, "", "wc_bowl_firm", "2019-05-05");
        assert_eq!(
            due(office.stored(other, "", "wc_bowl_firm")),
            row("imported", "2019-05-05", JOINED)
        );
    });
}

#[test]
fn never_done_is_spread_over_one_interval_by_unit_and_a_unit_stays_whole() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        let second = office.stand("WC-2", FixtureKind::WaterCloset, None, &[]);
        let mut days: Vec<NaiveDate> = (0..12)
            .map(|number| {
                let unit = office.add_unit(&format!("{}", 301 + number));
                let wc = office.stand_in(unit, "WC-1", FixtureKind::WaterCloset, None, &[]);
                day(&office.stored(wc, "", "wc_bowl_firm").unwrap().due)
            })
            .collect();
        let (first, other) = (
            office.stored(wc, "", "wc_bowl_firm").unwrap(),
            office.stored(second, "", "wc_bowl_firm").unwrap(),
        );
        assert_eq!(first.due, other.due);
        days.push(day(&first.due));
        days.sort();
        let (begin, end) = (day(JOINED), day("2025-01-15"));
        assert!(days.iter().all(|due| (begin..end).contains(due)), "{days:?}");
        // Thirteen units over 366 days: level, so no gap is twice an even one.
        assert!(
            days.windows(2)
                .all(|pair| (pair[1] - pair[0]).num_days() < 2 * 366 / 13),
            "{days:?}"
        );
        assert_eq!(first.basis, "joined");
    });
}

#[test]
fn a_calendar_rule_is_satisfied_within_its_early_days_and_else_stays() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        office.only_schedule(
            "october",
            "calendar",
            "FREQ=YEARLY",
            Some("2024-10-01"),
            &["wc_bowl_firm"],
        );
        let wc = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("joined", JOINED, "2024-10-01")
        );
        office.result(wc, "", "wc_bowl_firm", "pass", "2025-04-01");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("done", "2025-04-01", "2025-10-01")
        );
        office.result(wc, "", "wc_bowl_firm", "pass", "2025-04-02");
        assert_eq!(
            due(office.stored(wc, "", "wc_bowl_firm")),
            row("done", "2025-04-02", "2026-10-01")
        );
    });
}

#[test]
fn of_several_schedules_the_earliest_last_day_is_shown_and_one_result_satisfies_all() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        office.result(wc, "", "wc_bowl_firm", "pass", "2026-01-10");
        office.add_schedule("half", "last_done", "P6M", None, &["wc_bowl_firm"], |_| {});
        let shown = office.stored(wc, "", "wc_bowl_firm").unwrap();
        assert_eq!(
            (shown.schedule.as_str(), shown.due.as_str()),
            ("half", "2026-07-10")
        );
        // The same days under another code: the first code in byte order is shown.
        office.add_schedule("aa_half", "last_done", "P6M", None, &["wc_bowl_firm"], |_| {});
        assert_eq!(office.stored(wc, "", "wc_bowl_firm").unwrap().schedule, "aa_half");
        office.result(wc, "", "wc_bowl_firm", "pass", "2026-07-01");
        let shown = office.stored(wc, "", "wc_bowl_firm").unwrap();
        assert_eq!(
            (shown.schedule.as_str(), shown.due.as_str()),
            ("aa_half", "2027-01-01")
        );
    });
}

#[test]
fn a_replaced_part_counts_from_its_own_day_and_the_others_do_not() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        office.only_schedule("lines", "last_done", "P1Y", None, &["supply_line_sound"]);
        let lav = office.stand(
            "LAV-1",
            FixtureKind::Lavatory,
            None,
            &[
                (PartKind::SupplyLineHot, Some("2015-01-01")),
                (PartKind::SupplyLineCold, None),
            ],
        );
        for part in ["supply_line_hot", "supply_line_cold"] {
            office.result(lav, part, "supply_line_sound", "pass", "2026-02-01");
        }
        office.replace_part(lav, PartKind::SupplyLineHot, "2026-05-05");
        assert_eq!(
            due(office.stored(lav, "supply_line_hot", "supply_line_sound")),
            row("installed", "2026-05-05", "2027-05-05")
        );
        assert_eq!(
            due(office.stored(lav, "supply_line_cold", "supply_line_sound")),
            row("done", "2026-02-01", "2027-02-01")
        );
        assert_eq!(office.stored(lav, "", "supply_line_sound"), None);
    });
}

#[test]
fn history_belongs_to_the_tag_and_the_replaced_fixture_has_nothing_due() {
    on_both(|fleet| {
        let (office, old) = bowl(fleet);
        office.result(old, "", "wc_bowl_firm", "pass", "2026-03-01");
        let new = office.replace(old, FixtureKind::WaterCloset, "2026-02-01");
        assert_eq!(office.stored(old, "", "wc_bowl_firm"), None);
        // Installed in February, but checked at this place in March.
        assert_eq!(
            due(office.stored(new, "", "wc_bowl_firm")),
            row("done", "2026-03-01", "2027-03-01")
        );
        let newest = office.replace(new, FixtureKind::WaterCloset, "2026-04-01");
        assert_eq!(
            due(office.stored(newest, "", "wc_bowl_firm")),
            row("installed", "2026-04-01", "2027-04-01")
        );
    });
}

#[test]
fn a_past_day_sees_what_stood_there_and_what_was_done_until_then() {
    on_both(|fleet| {
        let (office, old) = bowl(fleet);
        office.result(old, "", "wc_bowl_firm", "pass", "2024-06-01");
        office.result(old, "", "wc_bowl_firm", "pass", "2025-05-20");
        let new = office.replace(old, FixtureKind::WaterCloset, "2026-02-01");
        let seen = |stand, on_day| {
            office.as_of(stand, "", "wc_bowl_firm", on_day).map(|item| {
                (
                    item.basis.code().to_owned(),
                    item.counts_from.to_string(),
                    item.window.due().to_string(),
                )
            })
        };
        assert_eq!(seen(old, "2024-01-14"), None, "the building had not joined");
        assert_eq!(
            seen(old, "2024-05-31").map(|seen| seen.0),
            Some("joined".to_owned())
        );
        assert_eq!(
            seen(old, "2024-06-01"),
            Some(row("done", "2024-06-01", "2025-06-01"))
        );
        assert_eq!(
            seen(old, "2025-06-15"),
            Some(row("done", "2025-05-20", "2026-05-20"))
        );
        assert_eq!(
            seen(old, "2026-01-31"),
            Some(row("done", "2025-05-20", "2026-05-20"))
        );
        assert_eq!((seen(old, "2026-02-01"), seen(new, "2026-01-31")), (None, None));
        assert_eq!(
            seen(new, "2026-02-01"),
            Some(row("installed", "2026-02-01", "2027-02-01"))
        );
    });
}

#[test]
fn a_scope_names_kinds_parts_buildings_and_tags() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        office.switch_all_off();
        let parts = [(PartKind::SupplyLineHot, None), (PartKind::SupplyLineCold, None)];
        let lav = office.stand("LAV-1", FixtureKind::Lavatory, None, &parts);
        let sink = office.stand("KS-1", FixtureKind::KitchenSink, None, &parts);
        let check = "supply_line_sound";
        let asked = |stand, part| office.stored(stand, part, check).map(|shown| shown.schedule);
        let add = |code: &str, change: &dyn Fn(&mut anglestop::domain::due::Terms)| {
            office.add_schedule(code, "last_done", "P1Y", None, &[check], |terms| change(terms));
        };
        add("elsewhere", &|terms| {
            terms.scope.buildings = vec!["BIRCH".to_owned()]
        });
        assert_eq!(asked(lav, "supply_line_hot"), None);
        add("sinks", &|terms| {
            terms.scope.kinds = vec![FixtureKind::KitchenSink]
        });
        assert_eq!(asked(lav, "supply_line_hot"), None);
        assert_eq!(asked(sink, "supply_line_hot").as_deref(), Some("sinks"));
        add("hot_here", &|terms| {
            terms.scope.parts = vec![PartKind::SupplyLineHot];
            terms.scope.buildings = vec!["ALDER".to_owned()];
            terms.scope.tags = vec!["LAV-1".to_owned()];
        });
        assert_eq!(asked(lav, "supply_line_hot").as_deref(), Some("hot_here"));
        assert_eq!(asked(lav, "supply_line_cold"), None);
    });
}

#[test]
fn a_minimum_age_begins_on_its_birthday_and_a_maximum_ends_on_it() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        office.switch_all_off();
        let check = "wc_bowl_firm";
        let wc = office.stand("WC-1", FixtureKind::WaterCloset, Some("2017-02-28"), &[]);
        let unknown = office.stand("WC-2", FixtureKind::WaterCloset, None, &[]);
        office.result(wc, "", check, "pass", "2026-01-10");
        office.result(unknown, "", check, "pass", "2026-01-10");
        office.add_schedule("old", "last_done", "P6M", None, &[check], |terms| {
            terms.scope.min_age_years = Some(10)
        });
        assert_eq!(
            due(office.stored(wc, "", check)),
            row("done", "2026-01-10", "2027-02-28")
        );
        assert_eq!(
            due(office.stored(unknown, "", check)),
            row("done", "2026-01-10", "2026-07-10")
        );
        office.add_schedule("young", "last_done", "P3M", None, &[check], |terms| {
            terms.scope.max_age_years = Some(9)
        });
        // Due on 10 April 2026, past the ninth birthday on 28 February: it does not exist.
        assert_eq!(office.stored(wc, "", check).unwrap().schedule, "old");
        assert_eq!(office.stored(unknown, "", check).unwrap().schedule, "old");
        office.add_schedule("nearly", "last_done", "P49D", None, &[check], |terms| {
            terms.scope.max_age_years = Some(9)
        });
        let shown = office.stored(wc, "", check).unwrap();
        assert_eq!(
            (shown.schedule.as_str(), shown.due.as_str()),
            ("nearly", "2026-02-28")
        );
    });
}

#[test]
fn a_check_is_asked_only_under_the_buildings_policy_and_age() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        let wc = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        // The default yearly pack, in a building whose policy is "sealed".
        assert!(office.stored(wc, "", "wc_base_joint_sealed").is_some());
        assert_eq!(office.stored(wc, "", "wc_base_joint_rear_open"), None);
        let drain = office.stand("MD-1", FixtureKind::MainDrain, None, &[]);
        office.only_schedule("camera", "last_done", "P1M", None, &["main_drain_camera"]);
        let shown = office.stored(drain, "", "main_drain_camera").unwrap();
        // Built in 1974: old long ago.
        assert_eq!(day(&shown.due).year(), 2024);
        office.write(|tx| {
            use diesel::RunQueryDsl as _;
            diesel::sql_query("UPDATE buildings SET built_year = 2000")
                .execute(&mut **tx)
                .unwrap();
            anglestop::store::due::refresh_building(tx, office.building).unwrap();
        });
        let limit = anglestop::exchange::catalogue::builtin()
            .unwrap()
            .check("main_drain_camera")
            .and_then(|check| check.conditions.building_age.as_ref())
            .map(|limit| i32::from(limit.at_least_years))
            .expect("the camera check waits for old buildings");
        let shown = office.stored(drain, "", "main_drain_camera").unwrap();
        assert_eq!(shown.due, format!("{}-01-01", 2000 + limit));
    });
}

#[test]
fn what_is_off_until_chosen_waits_for_a_schedule_that_chooses_it_and_the_residents_tests_are_never_due() {
    on_both(|fleet| {
        let office = Office::new(fleet, JOINED);
        let heater = office.stand(
            "WH-1",
            FixtureKind::WaterHeater,
            None,
            &[(PartKind::ReliefValve, None), (PartKind::Anode, None)],
        );
        let alarm = office.stand("SA-1", FixtureKind::SmokeAlarm, None, &[]);
        let heater_rows = |check: &str| {
            ["", "relief_valve", "anode"]
                .iter()
                .filter_map(|part| office.stored(heater, part, check))
                .map(|shown| shown.schedule)
                .collect::<Vec<_>>()
        };
        assert_eq!(heater_rows("heater_anode"), Vec::<String>::new());
        assert_eq!(office.stored(alarm, "", "smoke_alarm_monthly"), None);
        assert!(office.stored(alarm, "", "smoke_alarm_sounds").is_some());
        office.write(|tx| {
            let schedule = anglestop::store::schedules::by_code(tx, "chosen_anode")
                .unwrap()
                .unwrap();
            let mut terms = schedule.terms.clone();
            terms.active = true;
            anglestop::store::schedules::update(tx, &schedule, &terms, by()).unwrap();
            anglestop::store::due::mark_stale(tx).unwrap();
        });
        anglestop::store::due::renew_stale(&office.fleet.db).unwrap();
        assert_eq!(heater_rows("heater_anode"), ["chosen_anode"]);
    });
}

#[test]
fn renewing_goes_on_where_a_stopped_process_left_off() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet);
        office.write(|tx| {
            use diesel::RunQueryDsl as _;
            diesel::sql_query("DELETE FROM due_rows")
                .execute(&mut **tx)
                .unwrap();
            anglestop::store::due::mark_stale(tx).unwrap();
        });
        assert!(fleet.db.read(anglestop::store::due::is_stale).unwrap());
        // The next command or server that starts finds it.
        anglestop::actions::setup::prepare(&fleet.db, super::office::now()).unwrap();
        assert!(!fleet.db.read(anglestop::store::due::is_stale).unwrap());
        assert!(office.stored(wc, "", "wc_bowl_firm").is_some());
    });
}
