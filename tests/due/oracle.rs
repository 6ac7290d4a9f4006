//! A random fleet of several hundred fixtures with a random history: what `due` says is recomputed by `oracles/due.py` (python-dateutil)
//! from the exported CSVs alone, and an altered row makes that fail.

use std::fmt::Write as _;

use anglestop::actions::calendars;
use anglestop::actions::schedules::{Switch, add, switch, switch_pack};
use anglestop::domain::code::Coded;
use anglestop::domain::due::{ClosingText, ScheduleText};
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::domain::result::{Entry, Outcome};
use anglestop::domain::trade::catalogue::Pack;
use anglestop::domain::trade::{BaseJoint, FixtureKind};
use anglestop::store::{buildings, due, results, schedules};
use chrono::{NaiveDate, TimeDelta};
use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};

use super::exported::{Exported, anglestop};
use super::office::{day, now};
use crate::support::{Fleet, on_both};

const AS_OF: &str = "2026-09-01";
const UNITS: usize = 20;
const ZONES: [(&str, &str); 3] = [
    ("ALDER", "America/Chicago"),
    ("BIRCH", "Asia/Kolkata"),
    ("CEDAR", "Pacific/Auckland"),
];
/// Columns with last-done days, and whom they concern.
const LAST_DONE: [(&str, &[FixtureKind]); 4] = [
    ("last_done:wc_bowl_firm", &[FixtureKind::WaterCloset]),
    ("last_done:wc_base_dry:wax_seal", &[FixtureKind::WaterCloset]),
    (
        "last_done:supply_line_sound:supply_line_hot",
        &[FixtureKind::Lavatory, FixtureKind::KitchenSink],
    ),
    ("last_done:hose_bibb_frost", &[FixtureKind::HoseBibb]),
];

fn some_day(rng: &mut SmallRng, from: &str, to: &str) -> NaiveDate {
    let days = (day(to) - day(from)).num_days();
    day(from) + TimeDelta::days(rng.random_range(0..=days))
}

fn maybe_day(rng: &mut SmallRng, from: &str, to: &str) -> String {
    if rng.random_bool(0.5) {
        some_day(rng, from, to).to_string()
    } else {
        String::new()
    }
}

/// A fleet as CSV: three buildings in three zones, every kind of fixture, parts with and without dates.
fn fleet_csv(rng: &mut SmallRng) -> String {
    let names: Vec<&str> = LAST_DONE.iter().map(|(name, _)| *name).collect();
    let mut csv = format!(
        "building,time_zone,joined_on,built_year,base_joint,unit,tag,kind,installed_on,parts,{}\n",
        names.join(",")
    );
    for (index, (building, zone)) in ZONES.into_iter().enumerate() {
        let built = ["1958", "1999", ""][index];
        let joined = ["2024-02-29", "2025-01-31", "2026-05-10"][index];
        let joint = BaseJoint::ALL[index].code();
        for unit in 1..=UNITS {
            let mut counts = std::collections::BTreeMap::new();
            for _ in 0..rng.random_range(4..=8) {
                let kind = FixtureKind::ALL[rng.random_range(0..FixtureKind::ALL.len())];
                let number = counts.entry(kind).and_modify(|count| *count += 1).or_insert(1);
                let tag = format!("{}-{number}", kind.tag_prefix());
                let parts: Vec<String> = kind
                    .standard_parts()
                    .iter()
                    .map(|part| match rng.random_range(0..4) {
                        0 => format!("{}={}", part.code(), some_day(rng, "2012-01-01", "2026-08-01")),
                        1 => format!("{}={}~", part.code(), some_day(rng, "2012-01-01", "2026-08-01")),
                        _ => part.code().to_owned(),
                    })
                    .collect();
                let parts = if parts.is_empty() {
                    "none".to_owned()
                } else {
                    parts.join(";")
                };
                let installed = maybe_day(rng, "2010-01-01", "2026-08-01");
                let _ = write!(
                    csv,
                    "{building},{zone},{joined},{built},{joint},{unit},{tag},{},{installed},{parts}",
                    kind.code()
                );
                for (_, kinds) in LAST_DONE {
                    let done = if kinds.contains(&kind) {
                        maybe_day(rng, "2021-01-01", "2026-06-01")
                    } else {
                        String::new()
                    };
                    let _ = write!(csv, ",{done}");
                }
                csv.push('\n');
            }
        }
    }
    csv
}

/// Answers at random places and instants, some after the day that is asked about.
fn answer(fleet: &Fleet, rng: &mut SmallRng) {
    let (book, seen) = fleet
        .db
        .read(|conn| {
            let book = schedules::book(conn)?;
            let mut seen = Vec::new();
            for building in buildings::list(conn, &Scope::All)? {
                let computed = due::compute_building(conn, &book, building.id, day(AS_OF))?;
                for (at, row) in computed.rows {
                    seen.push((building.facts.time_zone, computed.places[at].clone(), row));
                }
            }
            Ok((book, seen))
        })
        .unwrap();
    let mut entries = Vec::new();
    for (zone, place, row) in seen {
        for _ in 0..rng.random_range(0..3) {
            let seconds = rng.random_range(0..86_400);
            let at = some_day(rng, "2024-03-01", "2026-09-20")
                .and_hms_opt(0, 0, 0)
                .unwrap()
                + TimeDelta::seconds(seconds);
            entries.push(Entry {
                client_id: uuid::Uuid::from_u128(rng.random()),
                building: place.building,
                unit: place.unit,
                tag: place.tag,
                fixture: place.fixture,
                part: row.part,
                check: row.check,
                check_version: i64::from(book.check(row.check).unwrap().check.version),
                outcome: [Outcome::Pass, Outcome::Fail, Outcome::NotChecked][rng.random_range(0..3)],
                reason: String::new(),
                reading: String::new(),
                note: "=SUM(1) seen, \"so\" noted".to_owned(),
                done_at: at,
                done_on: at.and_utc().with_timezone(&zone).date_naive(),
                received_at: at,
                person: None,
                turnover: None,
                visit: None,
                asked: String::new(),
                detail: String::new(),
            });
        }
    }
    assert!(entries.len() > 500, "{}", entries.len());
    fleet
        .db
        .write(|tx| {
            results::append_many(tx, &entries)?;
            due::mark_stale(tx)
        })
        .unwrap();
    due::renew_stale(&fleet.db).unwrap();
}

/// Two of the buildings are closed on some days; the third never is.
fn close(fleet: &Fleet) {
    let (db, actor) = (&fleet.db, Actor::operator());
    let all = db.read(|conn| buildings::list(conn, &Scope::All)).unwrap();
    for (code, week, closings) in [
        (
            "ALDER",
            "MO TU WE TH FR",
            &[
                ("New Year's Day", "2020-01-01", "FREQ=YEARLY", "1"),
                (
                    "Last Monday of May",
                    "2020-01-01",
                    "FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO",
                    "1",
                ),
                ("Summer shut-down", "2026-08-10", "", "40"),
            ][..],
        ),
        (
            "BIRCH",
            "MO TU WE TH FR SA",
            &[("Winter break", "2024-12-20", "FREQ=YEARLY", "17")],
        ),
    ] {
        let building = all
            .iter()
            .find(|building| building.facts.code == code)
            .unwrap()
            .id;
        calendars::set_week(db, &actor, now(), building, &[week.to_owned()]).unwrap();
        for (name, start, rule, days) in closings {
            let text = ClosingText {
                name: (*name).to_owned(),
                start: (*start).to_owned(),
                rule: (*rule).to_owned(),
                days: (*days).to_owned(),
                ..ClosingText::default()
            };
            calendars::close(db, &actor, now(), building, &text).unwrap();
        }
    }
}

/// Schedules of every form beside the default pack.
fn more_schedules(fleet: &Fleet) {
    let (db, actor) = (&fleet.db, Actor::operator());
    switch_pack(db, &actor, now(), Pack::HalfYearly, Switch::On).unwrap();
    switch(db, &actor, now(), "chosen_relief_test", Switch::On).unwrap();
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let text = |code: &str, anchor: &str, rule: &str, start: &str, checks: &[&str]| ScheduleText {
        code: code.to_owned(),
        name: code.to_owned(),
        active: "yes".to_owned(),
        anchor: anchor.to_owned(),
        rule: rule.to_owned(),
        start: start.to_owned(),
        lead_days: "4".to_owned(),
        grace_days: "6".to_owned(),
        checks: words(checks),
        ..ScheduleText::default()
    };
    let added = [
        text(
            "last_friday",
            "calendar",
            "FREQ=MONTHLY;INTERVAL=2;BYDAY=-1FR",
            "2025-01-01",
            &["wc_bowl_firm", "stop_works"],
        ),
        ScheduleText {
            scope_min_age_years: "10".to_owned(),
            ..text(
                "old_lines",
                "last_done",
                "P90D",
                "",
                &["supply_line_sound", "faucet_flow"],
            )
        },
        ScheduleText {
            scope_max_age_years: "6".to_owned(),
            scope_kinds: words(&["water_closet", "dishwasher"]),
            ..text("young_floors", "last_done", "P2W", "", &["floor_around"])
        },
        ScheduleText {
            scope_buildings: words(&["ALDER", "CEDAR"]),
            scope_tags: words(&["LAV-1", "KS-1"]),
            scope_parts: words(&["supply_line_hot"]),
            early_days: "20".to_owned(),
            ..text(
                "hot_lines",
                "calendar",
                "FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1",
                "2026-01-31",
                &["supply_line_sound"],
            )
        },
        ScheduleText {
            on_closed_days: "forward".to_owned(),
            ..text(
                "on_to_a_working_day",
                "calendar",
                "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA",
                "2025-01-04",
                &["faucet_flow", "wc_flushes"],
            )
        },
        ScheduleText {
            on_closed_days: "back".to_owned(),
            ..text(
                "back_to_a_working_day",
                "calendar",
                "FREQ=MONTHLY;BYMONTHDAY=1",
                "2025-01-01",
                &["wc_seat", "stop_works"],
            )
        },
        ScheduleText {
            on_closed_days: "back".to_owned(),
            season_months: words(&["11", "12", "1", "2"]),
            ..text(
                "in_winter",
                "last_done",
                "P4M",
                "",
                &["floor_around", "wc_cracks"],
            )
        },
        ScheduleText {
            season_months: words(&["4", "5", "6", "9"]),
            ..text(
                "in_summer",
                "last_done",
                "P3M",
                "",
                &["hose_bibb_frost", "wc_base_dry"],
            )
        },
        ScheduleText {
            scope_min_failures: "1".to_owned(),
            ..text(
                "failing",
                "last_done",
                "P40D",
                "",
                &["wc_bowl_firm", "stop_works", "faucet_flow", "supply_line_sound"],
            )
        },
        text(
            "until",
            "calendar",
            "FREQ=WEEKLY;INTERVAL=3;UNTIL=20261231",
            "2026-02-02",
            &["smoke_alarm_sounds"],
        ),
    ];
    for schedule in &added {
        add(db, &actor, now(), schedule).unwrap();
    }
}

#[test]
fn a_random_fleet_is_recomputed_alike_by_an_independent_script_and_an_altered_row_is_noticed() {
    on_both(|fleet| {
        let mut rng = SmallRng::seed_from_u64(20_260_901);
        let given = tempfile::Builder::new().suffix(".csv").tempfile().unwrap();
        std::fs::write(given.path(), fleet_csv(&mut rng)).unwrap();
        anglestop(fleet, &["import", given.path().to_str().unwrap()]);
        close(fleet);
        more_schedules(fleet);
        answer(fleet, &mut rng);
        let exported = Exported::of(fleet);
        let mut rows = exported.list(fleet, AS_OF);
        let (code, told) = exported.recompute(AS_OF);
        assert_eq!(code, Some(0), "{told}");
        assert!(rows.len() > 1_000, "{}", rows.len());
        assert!(
            told.starts_with(&format!("{} due items: no difference", rows.len())),
            "{told}"
        );
        for (field, values) in [
            ("basis", &["done", "installed", "imported", "joined"][..]),
            ("state", &["later", "in_window", "due", "overdue"]),
            (
                "schedule",
                &[
                    "last_friday",
                    "old_lines",
                    "young_floors",
                    "hot_lines",
                    "until",
                    "failing",
                    "on_to_a_working_day",
                    "back_to_a_working_day",
                    "in_winter",
                    "in_summer",
                    "chosen_relief_test",
                ],
            ),
        ] {
            for value in values {
                assert!(
                    rows.iter().any(|row| row[field] == *value),
                    "no row has {field} {value}"
                );
            }
        }
        let moved = rows.iter().filter(|row| !row["moved_from"].is_null()).count();
        assert!(moved > 50, "{moved} of {} were moved", rows.len());
        anglestop(fleet, &["verify", "due"]);

        let altered = rows[rows.len() / 2]["due"].as_str().unwrap().to_owned();
        let moved = day(&altered) + TimeDelta::days(1);
        let middle = rows.len() / 2;
        rows[middle]["due"] = serde_json::json!(moved);
        std::fs::write(exported.file("due.json"), serde_json::to_vec(&rows).unwrap()).unwrap();
        let (code, told) = exported.recompute(AS_OF);
        assert_eq!(code, Some(1), "{told}");
        assert!(
            told.contains(&format!("due is {moved}, recomputed {altered}")),
            "{told}"
        );
    });
}
