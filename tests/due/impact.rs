//! What a change of a schedule would mean, against a small office counted by hand and the due rows that then stand.

use anglestop::actions::schedules::{Impact, impact};
use anglestop::domain::due::{Schedule, Terms, read_timing};
use anglestop::domain::trade::FixtureKind;
use anglestop::store::schedules;

use super::office::{Office, by, day, now};
use crate::support::on_both;

/// The office's own schedule with its terms changed.
fn changed(office: &Office<'_>, code: &str, change: impl FnOnce(&mut Terms)) -> Schedule {
    let read = office.fleet.db.read(|conn| schedules::by_code(conn, code));
    let mut schedule = read.unwrap().unwrap();
    change(&mut schedule.terms);
    schedule
}

fn look(office: &Office<'_>, schedule: Schedule) -> Impact {
    office
        .fleet
        .db
        .read(|conn| {
            let book = schedules::book(conn)?;
            impact(conn, &book, now(), &[schedule])
        })
        .unwrap()
}

fn monthly(terms: &mut Terms) {
    terms.timing = read_timing("last_done", "P1M", None, 2, 5, None).unwrap();
}

/// Two closets, both last done on 15 August 2026 and looked at on 1 September. Every six months: 15 February, 15 August, 15 February,
/// 15 August of the two years ahead, 4 each. Every month: from 15 September 2026 to 15 August 2028, 24 each.
#[test]
fn checks_a_month_are_those_that_one_counts_by_hand() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P6M", None, &["wc_seat"]);
        for label in ["WC-1", "WC-2"] {
            let stand = office.stand(label, FixtureKind::WaterCloset, None, &[]);
            office.result(stand, "", "wc_seat", "pass", "2026-08-15");
        }
        let found = look(&office, changed(&office, "seats", monthly));
        assert_eq!((found.before.fixtures(), found.after.fixtures()), (2, 2));
        assert_eq!(found.before.all_checks(), 8);
        assert_eq!(found.after.all_checks(), 48);
        assert_eq!(found.after.checks, vec![2; 24]);
        let months: Vec<usize> = (0..24).filter(|month| found.before.checks[*month] > 0).collect();
        assert_eq!(months, [5, 11, 17, 23], "February and August, from September on");
        assert_eq!((found.before.overdue, found.after.overdue), (0, 0));
        let minutes: f64 = found.after.minutes.iter().sum();
        let each = minutes / 48.0;
        assert!((found.after.minutes_a_month() - 2.0 * each).abs() < 1e-9);
    });
}

/// A grace that shrinks makes overdue at once what then stands as overdue once the change is made; until then nothing is different.
#[test]
fn what_becomes_overdue_at_once_is_what_stands_after_the_change() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P6M", None, &["wc_seat"]);
        for (label, done) in [("WC-1", "2026-02-25"), ("WC-2", "2026-03-20")] {
            let stand = office.stand(label, FixtureKind::WaterCloset, None, &[]);
            office.result(stand, "", "wc_seat", "pass", done);
        }
        // Due on 25 August, ten days of grace: until 4 September.
        let tighter = |terms: &mut Terms| {
            terms.timing = read_timing("last_done", "P6M", None, 5, 3, None).unwrap();
        };
        let schedule = changed(&office, "seats", tighter);
        let found = look(&office, schedule.clone());
        assert_eq!((found.before.overdue, found.after.overdue), (0, 1));
        office.assert_verified();
        office.write(|tx| {
            let known = schedules::by_code(tx, "seats").unwrap().unwrap();
            schedules::update(tx, &known, &schedule.terms, by()).unwrap();
            anglestop::store::due::mark_stale(tx).unwrap();
        });
        anglestop::store::due::renew_stale(&fleet.db).unwrap();
        office.assert_verified();
        let again = look(&office, changed(&office, "seats", |_| {}));
        assert_eq!(again.before, again.after, "no change is no difference");
        assert_eq!(again.before.overdue, 1);
    });
}

#[test]
fn switched_off_it_asks_for_nothing_and_beside_another_schedule_for_nothing_less() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P6M", None, &["wc_seat"]);
        office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        let off = |terms: &mut Terms| terms.active = false;
        let alone = look(&office, changed(&office, "seats", off));
        assert!(alone.before.all_checks() >= 4);
        assert_eq!((alone.after.all_checks(), alone.after.fixtures()), (0, 0));
        office.add_schedule("seats_too", "last_done", "P6M", None, &["wc_seat"], |_| {});
        let beside = look(&office, changed(&office, "seats", off));
        assert_eq!(beside.before, beside.after);
        let elsewhere = changed(&office, "seats", |terms| {
            terms.active = true;
            terms.scope.buildings = vec!["BIRCH".to_owned()];
        });
        let moved = look(&office, elsewhere);
        assert_eq!(
            moved.before.all_checks(),
            moved.after.all_checks(),
            "the other one still asks here"
        );
    });
}

/// A calendar rule that comes due in certain months only puts its checks there.
#[test]
fn a_rule_of_certain_months_puts_its_checks_there() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule(
            "seats",
            "calendar",
            "FREQ=YEARLY",
            Some("2026-10-01"),
            &["wc_seat"],
        );
        let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        office.result(stand, "", "wc_seat", "pass", "2026-08-01");
        assert_eq!(day("2026-09-01"), now().0.date());
        let found = look(&office, changed(&office, "seats", |_| {}));
        let months: Vec<usize> = (0..24).filter(|month| found.before.checks[*month] > 0).collect();
        assert_eq!(
            months,
            [13],
            "October 2026 was satisfied in August, so October 2027"
        );
    });
}
