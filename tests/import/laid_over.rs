//! What a file changes in a fleet that is there already, and what it leaves alone.

use anglestop::domain::register::inventory::{Inventory, TagInventory};
use anglestop::domain::register::{Installed, Service};
use anglestop::domain::trade::PartKind;
use anglestop::store::{Db, fleet};
use chrono::NaiveDate;

use super::{folder, import, import_soundly, one, rows_of, seed, seed_folder, text};
use crate::support::{on_both, sqlite};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn building(db: &Db, code: &str) -> Inventory {
    db.read(|conn| {
        let ids = fleet::by_codes(conn, &[code.to_owned()])?;
        Ok(fleet::load(conn, &[ids[code]])?.remove(0))
    })
    .unwrap()
}

fn place(db: &Db, unit: &str, tag: &str) -> TagInventory {
    let building = building(db, "A");
    let unit = building
        .units
        .iter()
        .find(|known| known.facts.label == unit)
        .unwrap();
    unit.tags.iter().find(|known| known.label == tag).unwrap().clone()
}

/// A building A with one water closet.
fn start(db: &Db) {
    let file = "building,time_zone,joined_on,built_year,unit,room,tag,kind,maker,note,installed_on,parts\n\
                A,America/Chicago,2026-01-05,1974,1,Bath,WC-1,water_closet,Northfall,chipped,2020-05-02,\
                wax_seal=2020-05-02;stop;flapper=2024~\n";
    import_soundly(db, &text(file));
}

#[test]
fn the_same_file_twice_changes_nothing_and_is_noted_once() {
    on_both(|fleet| {
        let first = import_soundly(&fleet.db, &seed("fleet-example.csv"));
        assert_eq!(first.counts.fixtures.added, 39);
        assert_eq!(first.counts.portfolios.added, 2);
        let (before, due) = (one(&fleet.db), rows_of(&fleet.db, "due_items"));
        assert!(due > 100);
        let again = import_soundly(&fleet.db, &seed("fleet-example.csv"));
        assert!(again.counts.is_unchanged());
        assert_eq!(again.changes, []);
        assert_eq!(one(&fleet.db), before);
        assert_eq!(rows_of(&fleet.db, "due_items"), due);
        assert_eq!(rows_of(&fleet.db, "audit WHERE action = 'import_fleet'"), 1);
    });
}

#[test]
fn a_blank_leaves_what_is_known_and_a_hyphen_empties_it() {
    on_both(|fleet| {
        start(&fleet.db);
        let file = "building,built_year,unit,room,tag,maker,model,note\nA,,1,,WC-1,,Brook,-\n";
        let report = import_soundly(&fleet.db, &text(file));
        let told: Vec<_> = report
            .changes
            .iter()
            .map(|change| {
                (
                    change.what.as_str(),
                    change.column,
                    change.before.as_str(),
                    change.after.as_str(),
                )
            })
            .collect();
        assert_eq!(
            told,
            [
                ("A 1 WC-1", "model", "", "Brook"),
                ("A 1 WC-1", "note", "chipped", "")
            ]
        );
        let fixture = place(&fleet.db, "1", "WC-1").fixtures.remove(0);
        assert_eq!(fixture.facts.maker, "Northfall");
        assert_eq!(fixture.facts.note, "");
        assert_eq!(building(&fleet.db, "A").facts.built_year, Some(1974));
    });
}

#[test]
fn what_a_file_leaves_out_stays() {
    on_both(|fleet| {
        import_soundly(&fleet.db, &seed("fleet-example.csv"));
        let before = one(&fleet.db);
        let report = import_soundly(
            &fleet.db,
            &text("building,unit,tag,kind\nALDER,101,SA-2,smoke_alarm\n"),
        );
        assert_eq!(report.counts.fixtures.added, 1);
        assert_eq!(report.counts.buildings.unchanged, 1);
        let after = one(&fleet.db);
        assert!(before.lines().all(|line| after.contains(line)));
    });
}

#[test]
fn a_new_fixture_gets_the_standard_parts_and_counts_from_the_day_it_joined_or_was_installed() {
    on_both(|fleet| {
        start(&fleet.db);
        let file = "building,unit,tag,kind,installed_on,parts\n\
                    A,1,LAV-1,lavatory,2019-01-01,\nA,1,LAV-2,lavatory,2026-06-01,\nA,1,LAV-3,lavatory,,none\n";
        import_soundly(&fleet.db, &text(file));
        let old = place(&fleet.db, "1", "LAV-1").fixtures.remove(0);
        assert_eq!(old.stood.from, day("2026-01-05"));
        assert_eq!(old.parts.len(), 5);
        assert_eq!(old.parts[0].facts.installed, Installed::About(day("2019-01-01")));
        let new = place(&fleet.db, "1", "LAV-2").fixtures.remove(0);
        assert_eq!(new.stood.from, day("2026-06-01"));
        assert_eq!(new.parts[0].facts.installed, Installed::On(day("2026-06-01")));
        assert_eq!(place(&fleet.db, "1", "LAV-3").fixtures[0].parts, []);
    });
}

#[test]
fn a_part_that_the_list_leaves_out_is_retired_today_and_keeps_its_history() {
    on_both(|fleet| {
        start(&fleet.db);
        let file = "building,unit,tag,parts\nA,1,WC-1,wax_seal=2026-03-01;stop;supply_line=2025\n";
        import_soundly(&fleet.db, &text(file));
        let parts = &place(&fleet.db, "1", "WC-1").fixtures[0].parts;
        let part = |kind| parts.iter().find(|part| part.facts.kind == kind).unwrap();
        assert_eq!(
            part(PartKind::WaxSeal).facts.installed,
            Installed::On(day("2026-03-01"))
        );
        assert_eq!(
            part(PartKind::SupplyLine).facts.installed,
            Installed::About(day("2025-07-01"))
        );
        let flapper = part(PartKind::Flapper).stood;
        assert_eq!(
            (flapper.status, flapper.until),
            (Service::Retired, Some(day("2026-11-25")))
        );
        assert_eq!(parts.len(), 4);
        let exported = one(&fleet.db);
        assert!(
            exported.contains("supply_line=2025-07-01~;stop;wax_seal=2026-03-01,"),
            "{exported}"
        );
        assert!(import(&fleet.db, &text(file)).counts.is_unchanged());
    });
}

#[test]
fn a_replacement_in_the_file_ends_the_old_one_and_its_parts_and_begins_the_new() {
    on_both(|fleet| {
        start(&fleet.db);
        let file = "building,unit,tag,kind,model,status,stood_from,stood_until\n\
                    A,1,WC-1,water_closet,Brook II,in_service,2026-04-01,\n\
                    A,1,WC-1,water_closet,,replaced,2026-01-05,2026-04-01\n";
        import_soundly(&fleet.db, &text(file));
        let [old, new] = place(&fleet.db, "1", "WC-1").fixtures.try_into().unwrap();
        assert_eq!(
            (old.stood.status, old.stood.until),
            (Service::Replaced, Some(day("2026-04-01")))
        );
        assert_eq!(old.facts.maker, "Northfall");
        assert!(
            old.parts
                .iter()
                .all(|part| part.stood.until == Some(day("2026-04-01")))
        );
        assert_eq!((new.stood.status, new.replaces), (Service::InService, Some(0)));
        assert_eq!(new.parts.len(), 5);
        assert!(import(&fleet.db, &text(file)).counts.is_unchanged());
    });
}

#[test]
fn a_last_done_day_of_a_check_on_parts_counts_for_each_unless_one_is_named() {
    on_both(|fleet| {
        let file = "building,time_zone,joined_on,unit,tag,kind,last_done:supply_line_sound,\
                    last_done:supply_line_sound:supply_line_hot\n\
                    A,America/Chicago,2026-01-05,1,LAV-1,lavatory,2025-10-07,2025-11-01\n";
        import_soundly(&fleet.db, &text(file));
        let days: Vec<_> = place(&fleet.db, "1", "LAV-1").prior_done.into_iter().collect();
        let told: Vec<_> = days
            .iter()
            .map(|(check, day)| (check.part, day.to_string()))
            .collect();
        assert_eq!(
            told,
            [
                (Some(PartKind::SupplyLineHot), "2025-11-01".to_owned()),
                (Some(PartKind::SupplyLineCold), "2025-10-07".to_owned()),
            ]
        );
    });
}

#[test]
fn a_check_that_is_not_asked_there_is_taken_with_a_note() {
    let fleet = sqlite();
    let file = "building,time_zone,joined_on,unit,tag,kind,last_done:wc_flushes\n\
                A,UTC,2026-01-05,1,LAV-1,lavatory,2025-10-07\n";
    let report = import_soundly(&fleet.db, &text(file));
    assert_eq!(report.notes.len(), 1);
    assert!(
        report.notes[0]
            .reason
            .contains("wc_flushes is not asked of what stands at LAV-1")
    );
}

#[test]
fn a_new_unit_gets_its_place_in_the_first_interval_and_keeps_it() {
    on_both(|fleet| {
        start(&fleet.db);
        let unit = &building(&fleet.db, "A").units[0];
        let spread = anglestop::domain::register::unit::spread_of(unit.id.unwrap());
        assert_eq!(unit.spread_ppm, Some(spread));
        import_soundly(&fleet.db, &text("building,unit,spread_ppm\nA,1,\nA,2,7\n"));
        let units = building(&fleet.db, "A").units;
        assert_eq!(
            (units[0].spread_ppm, units[1].spread_ppm),
            (Some(spread), Some(7))
        );
    });
}

#[test]
fn in_the_folder_a_blank_is_a_statement_and_a_missing_file_is_not() {
    on_both(|fleet| {
        import_soundly(&fleet.db, &seed_folder("fleet-example"));
        let before = folder(&fleet.db);
        let mut units = before
            .iter()
            .find(|file| file.name == "units.csv")
            .unwrap()
            .clone();
        let text = String::from_utf8(units.bytes).unwrap();
        units.bytes = text
            .replace("ALDER,101,unit,1,1,", "ALDER,101,unit,1,,")
            .into_bytes();
        let report = import_soundly(&fleet.db, &[units]);
        assert_eq!(report.changes.len(), 1);
        assert_eq!(
            (report.changes[0].column, report.changes[0].after.as_str()),
            ("riser", "")
        );
        let after = folder(&fleet.db);
        for (before, after) in before
            .iter()
            .zip(&after)
            .filter(|(file, _)| file.name != "units.csv")
        {
            assert_eq!(before, after);
        }
    });
}

#[test]
fn rows_of_the_folder_that_belong_to_nothing_are_told() {
    let fleet = sqlite();
    let mut files = seed_folder("fleet-example");
    files.retain(|file| matches!(file.name.as_str(), "buildings.csv" | "tags.csv" | "parts.csv"));
    let report = import(&fleet.db, &files);
    let has = |reason: &str| {
        report
            .problems
            .iter()
            .any(|problem| problem.reason.contains(reason))
    };
    assert!(has(
        "There is no unit 101 in ALDER, neither in units.csv nor in the register."
    ));
    assert!(has("There is no fixture 1 at WC-1 of unit 101 in fixtures.csv."));
    assert!(has("There is no room “Bathroom” in unit 101"));
    assert_eq!(rows_of(&fleet.db, "buildings"), 0);
}
