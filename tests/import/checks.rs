//! Checks of the users' own go along in the folder, with the last-done days and the schedules that name them.

use anglestop::domain::trade::{Check, Origin};
use anglestop::exchange::csv::fleet::source::Given;
use anglestop::store::{Db, checks};

use super::{folder, import, import_soundly, now, rows_of, seed_folder};
use crate::support::{Fleet, on_both, postgres, sqlite};

fn file(name: &str, text: &str) -> Given {
    Given {
        name: name.to_owned(),
        bytes: text.as_bytes().to_vec(),
    }
}

/// An own check: one of ours under another code.
fn own(db: &Db) -> Check {
    let ours = db
        .read(|conn| checks::by_code(conn, "wc_flushes"))
        .unwrap()
        .unwrap();
    let mut check = (*ours.check).clone();
    check.code = "our_flush".parse().unwrap();
    check.title = "Flush, \"ours\", ½".to_owned();
    check.version = 1;
    check
}

/// A fleet with an own check in its third version, a built-in check withdrawn, and a schedule and a last-done day that name the first.
fn fill(fleet: &Fleet) -> Vec<Given> {
    let db = &fleet.db;
    let mut check = own(db);
    db.write(|tx| {
        let id = checks::insert(tx, now(), Origin::Own, &check)?;
        for version in [2, 3] {
            check.version = version;
            checks::update(tx, now(), id, &check)?;
        }
        let ours = checks::by_code(tx, "wc_dye")?.unwrap();
        checks::set_offer(tx, ours.id, checks::Offer::Withdrawn)
    })
    .unwrap();
    let mut files = seed_folder("fleet-example");
    files.retain(|file| !matches!(file.name.as_str(), "checks.csv" | "schedules.csv"));
    let prior = files
        .iter_mut()
        .find(|file| file.name == "prior_done.csv")
        .unwrap();
    prior
        .bytes
        .extend_from_slice(b"ALDER,102,WC-1,our_flush,,2025-06-01\r\n");
    files.push(file(
        "schedules.csv",
        "schedule,name,active,anchor,rule,check,scope_buildings\nours,Our flush,yes,last_done,P6M,our_flush,ALDER\n",
    ));
    let report = import_soundly(db, &files);
    assert_eq!(report.counts.schedules.added, 1);
    files
}

#[test]
fn own_checks_go_round_with_what_names_them_byte_for_byte() {
    on_both(|fleet| {
        fill(fleet);
        let files = folder(&fleet.db);
        for other in [sqlite(), postgres()] {
            let report = import_soundly(&other.db, &files);
            assert_eq!((report.counts.checks.added, report.counts.checks.changed), (1, 1));
            for (found, expected) in folder(&other.db).iter().zip(&files) {
                let text = |file: &Given| String::from_utf8(file.bytes.clone()).unwrap();
                assert_eq!(text(found), text(expected), "{}", found.name);
            }
            assert!(import(&other.db, &files).counts.is_unchanged());
            assert!(
                rows_of(
                    &other.db,
                    "due_items JOIN checks ON checks.id = check_id WHERE code = 'our_flush'"
                ) > 0
            );
        }
    });
}

#[test]
fn another_procedure_is_a_newer_version_and_the_old_one_stays() {
    on_both(|fleet| {
        fill(fleet);
        let mut files = folder(&fleet.db);
        files.retain(|file| file.name == "checks.csv");
        let text = String::from_utf8(files[0].bytes.clone()).unwrap();
        files[0].bytes = text.replace("Flush, ", "Flushes, ").into_bytes();
        let report = import_soundly(&fleet.db, &files);
        assert_eq!(report.changes.len(), 1);
        assert_eq!(
            (
                report.changes[0].before.as_str(),
                report.changes[0].after.as_str()
            ),
            ("3", "4")
        );
        let stored = fleet
            .db
            .read(|conn| checks::by_code(conn, "our_flush"))
            .unwrap()
            .unwrap();
        assert!(stored.check.title.starts_with("Flushes, "));
        let old = fleet
            .db
            .read(|conn| checks::by_version(conn, stored.id, 3))
            .unwrap()
            .unwrap();
        assert!(old.title.starts_with("Flush, "));
    });
}

#[test]
fn checks_that_cannot_be_taken_are_told_and_nothing_is_stored() {
    let fleet = sqlite();
    let rows = [
        ("our_flush,yes,", "There is no check “our_flush”."),
        ("wc_dye,perhaps,", "Active is “perhaps”."),
        ("wc_flushes,yes,{}", "Check wc_flushes is built in"),
        ("ours,yes,{}", "The body can't be read"),
        ("ours,yes,{}", "speaks of the same check"),
    ];
    let text: String = rows.iter().map(|(row, _)| format!("{row}\n")).collect();
    let report = import(
        &fleet.db,
        &[file("checks.csv", &format!("check,active,body\n{text}"))],
    );
    for (row, reason) in rows {
        assert!(
            report
                .problems
                .iter()
                .any(|problem| problem.reason.contains(reason)),
            "{row}: {reason} not in {:?}",
            report.problems
        );
    }
    let wrong = import(&fleet.db, &[file("checks.csv", "check;body\n")]);
    assert!(wrong.problems[0].reason.contains("semicolons"));
    assert_eq!(rows_of(&fleet.db, "checks WHERE origin = 'own'"), 0);
}
