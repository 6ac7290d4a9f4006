//! What every due list reads of buildings, checks, schedules and people is kept in memory: never longer than it is true.

use std::sync::Arc;

use anglestop::clock::Now;
use anglestop::domain::register::person::Scope;
use anglestop::domain::trade::FixtureKind;
use anglestop::store::among::among;
use anglestop::store::due;
use anglestop::store::lists::due::{self as lists, Desk, Filter, Order};
use anglestop::store::schema::buildings;
use anglestop::store::settings;
use diesel::connection::SimpleConnection as _;
use diesel::prelude::*;

use super::office::{Office, day, now};
use crate::support::{on_both, sqlite};

fn desk(office: &Office<'_>, scope: &Scope, now: Now) -> Arc<Desk> {
    office.fleet.db.read(|conn| Desk::load(conn, scope, now)).unwrap()
}

/// Every change of what a desk is read from, by whatever statement, and what it must say after.
#[test]
fn a_kept_desk_says_what_stands_now() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P1M", None, &["wc_seat"]);
        let run = |statement: &str| office.write(|tx| tx.batch_execute(statement).unwrap());
        let all = || desk(&office, &Scope::All, now());

        let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        // Other tests of this process fill the same memory, so that it may be emptied just now; not each time.
        let stays = (0..9).any(|_| {
            let first = all();
            office.result(stand, "", "wc_seat", "pass", "2026-08-15");
            Arc::ptr_eq(&first, &all())
        });
        assert!(stays, "a result changes nothing of it, so it is kept");

        run("UPDATE buildings SET name = 'Alder House'");
        assert_eq!(all().places[0].name, "Alder House");
        run("UPDATE checks SET title = 'Seat sits tight' WHERE code = 'wc_seat'");
        assert!(
            all()
                .checks
                .values()
                .any(|check| check.title == "Seat sits tight")
        );
        run("UPDATE schedules SET code = 'seats_monthly' WHERE code = 'seats'");
        assert!(
            all()
                .schedules
                .values()
                .any(|asking| asking.code == "seats_monthly")
        );
        run(
            "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) VALUES \
             ('Jo Ferrer', 'jo@anglestop.example', 'technician', 'active', 'UTC', 6, '2026-09-01 00:00:00')",
        );
        assert!(all().people.iter().any(|(_, name)| name == "Jo Ferrer"));
        run("UPDATE people SET name = 'Jo Ferrer Ruiz' WHERE name = 'Jo Ferrer'");
        assert!(all().people.iter().any(|(_, name)| name == "Jo Ferrer Ruiz"));

        let here = Scope::Buildings([office.building].into());
        assert!(desk(&office, &here, now()).people.is_empty());
        run("INSERT INTO person_buildings SELECT people.id, buildings.id FROM people, buildings");
        assert_eq!(desk(&office, &here, now()).people.len(), 1);
        run("DELETE FROM person_buildings");
        assert!(desk(&office, &here, now()).people.is_empty());

        let nowhere = Scope::Buildings(std::collections::BTreeSet::new());
        assert!(desk(&office, &nowhere, now()).places.is_empty());
        assert_eq!(all().places.len(), 1, "one scope's desk is not another's");
    });
}

/// Each trigger by itself: the mark is another one after any change of a row, also one that changes nothing.
#[test]
fn every_change_of_what_a_desk_is_read_from_sets_another_mark() {
    on_both(|fleet| {
        let mark = || {
            let mark = fleet.db.read(|conn| settings::get(conn, "desk.mark"));
            mark.unwrap().unwrap()
        };
        let before = mark();
        let office = Office::new(fleet, "2026-01-01");
        assert_ne!(mark(), before, "a building more");
        let changes = [
            "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) VALUES \
             ('Jo Ferrer', 'jo@anglestop.example', 'technician', 'active', 'UTC', 6, '2026-09-01 00:00:00')",
            "UPDATE people SET name = 'Jo Ruiz'",
            "UPDATE people SET role = 'owner'",
            "INSERT INTO person_buildings SELECT people.id, buildings.id FROM people, buildings",
            "UPDATE person_buildings SET person_id = person_id",
            "DELETE FROM person_buildings",
            "DELETE FROM people",
            "UPDATE buildings SET name = 'Alder House'",
            "INSERT INTO turnovers (building_id, unit_id, move_out_on, move_in_on, stage, opened_at, signed_name, note) \
             SELECT building_id, id, '2026-08-31', '2026-09-20', 'found', '2026-09-01 00:00:00', '', '' FROM units",
            "UPDATE turnovers SET move_in_on = '2026-10-20'",
            "UPDATE turnovers SET stage = 'cancelled'",
            "DELETE FROM turnovers",
            "DELETE FROM units",
            "DELETE FROM buildings",
            "UPDATE due_turns SET live = live",
            "UPDATE schedules SET name = name",
            "INSERT INTO schedules (code, name, pack, active, recorded_only, anchor, rule, lead_days, grace_days, early_days, \
             scope_kinds, scope_parts, scope_buildings, scope_tags, version) SELECT 'another', name, pack, active, recorded_only, \
             anchor, rule, lead_days, grace_days, early_days, scope_kinds, scope_parts, scope_buildings, scope_tags, version \
             FROM schedules WHERE id = (SELECT min(id) FROM schedules)",
            "DELETE FROM schedule_checks",
            "DELETE FROM schedules",
            "UPDATE checks SET title = title",
            "INSERT INTO checks (code, origin, version, title, severity, minutes, active, body) \
             SELECT 'another', origin, version, title, severity, minutes, active, body FROM checks WHERE code = 'wc_seat'",
            "DELETE FROM check_versions",
            "DELETE FROM checks",
        ];
        let beside = [
            "DELETE FROM units",
            "DELETE FROM schedule_checks",
            "DELETE FROM check_versions",
        ];
        for change in changes {
            let before = mark();
            office.write(|tx| tx.batch_execute(change).unwrap());
            assert_eq!(mark() == before, beside.contains(&change), "{change}");
        }
    });
}

/// Until the rows of a narrower schedule are in use, those of before are listed as they are.
#[test]
fn a_window_that_is_to_be_narrower_stays_listed_until_it_is() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P1M", None, &["wc_seat"]);
        let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        office.result(stand, "", "wc_seat", "pass", "2026-08-02");
        let listed = || {
            fleet.db.read(|conn| {
                let desk = Desk::load(conn, &Scope::All, now())?;
                Ok(lists::page(conn, &desk, &Filter::default(), Order::LastDay, None, 9)?.len())
            })
        };
        assert_eq!(listed().unwrap(), 1, "due tomorrow, in its window");
        office.write(|tx| {
            tx.batch_execute("UPDATE schedules SET lead_days = 0, grace_days = 0")
                .unwrap();
            due::mark_stale(tx).unwrap();
        });
        assert_eq!(listed().unwrap(), 1, "nothing was renewed yet");
        due::renew_stale(&fleet.db).unwrap();
        assert_eq!(listed().unwrap(), 0, "it opens on the day on which it is due");
    });
}

/// In Chicago it is still 1 September at 04:59 UTC of the 2nd, in summer.
#[test]
fn a_kept_desk_ends_with_the_day_of_its_buildings() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        let today = |instant: &str| {
            let now = Now(instant.parse().unwrap());
            desk(&office, &Scope::All, now).places[0].today
        };
        assert_eq!(today("2026-09-02T04:59:00"), day("2026-09-01"));
        assert_eq!(today("2026-09-02T05:00:00"), day("2026-09-02"));
        assert_eq!(today("2026-09-02T04:59:00"), day("2026-09-01"));
    });
}

#[test]
fn keys_are_found_among_none_one_and_a_thousand() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        let found = |keys: &[i64]| {
            fleet.db.read(|conn| {
                let theirs = among(conn, "buildings.id", keys);
                Ok(buildings::table.filter(theirs).count().get_result::<i64>(conn)?)
            })
        };
        assert_eq!(found(&[]).unwrap(), 0);
        assert_eq!(found(&[office.building.0]).unwrap(), 1);
        assert_eq!(found(&[office.building.0 + 1, -7]).unwrap(), 0);
        let thousand: Vec<i64> = (0..1_000).map(|at| office.building.0 + at).collect();
        assert_eq!(found(&thousand).unwrap(), 1);
    });
}

/// SQLite is built as `.cargo/config.toml` says; without it the lists would be right and slow.
#[test]
fn sqlite_keeps_its_plans_and_takes_no_lock_within_a_connection() {
    #[derive(QueryableByName)]
    struct Choice {
        #[diesel(sql_type = diesel::sql_types::Text)]
        compile_options: String,
    }
    let fleet = sqlite();
    let options: Vec<String> = fleet
        .db
        .read(|conn| {
            let rows: Vec<Choice> = diesel::sql_query("PRAGMA compile_options").load(conn)?;
            Ok(rows.into_iter().map(|row| row.compile_options).collect())
        })
        .unwrap();
    let has = |name: &str| options.iter().any(|option| option == name);
    assert!(has("ENABLE_QPSG") && has("THREADSAFE=2"), "{options:?}");
    assert!(
        !has("ENABLE_STAT4") && !has("ENABLE_MEMORY_MANAGEMENT"),
        "{options:?}"
    );
}
