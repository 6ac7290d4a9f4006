//! The load of the year ahead, counted by hand on a small office.

use anglestop::domain::register::person::Scope;
use anglestop::domain::trade::FixtureKind;
use anglestop::store::lists::due::Desk;
use anglestop::store::lists::due::load::{Load, load};
use anglestop::store::schedules;

use super::office::{Office, day, now};
use crate::support::on_both;

fn look(office: &Office<'_>, scope: &Scope) -> Load {
    office
        .fleet
        .db
        .read(|conn| {
            let desk = Desk::load(conn, scope, now())?;
            let book = schedules::book(conn)?;
            load(conn, &desk, &book, None, day("2026-09-01"))
        })
        .unwrap()
}

/// From a Sunday a year with 29 February ends on the Monday after 53 weeks; what is due then is counted with the last of them.
#[test]
fn the_last_day_of_a_leap_year_begun_on_a_sunday_is_counted() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P1Y", None, &["wc_seat"]);
        let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
        office.result(stand, "", "wc_seat", "pass", "2027-03-06");
        let found = fleet.db.read(|conn| {
            let desk = Desk::load(conn, &Scope::All, now())?;
            let book = schedules::book(conn)?;
            load(conn, &desk, &book, None, day("2027-03-07"))
        });
        let found = found.unwrap();
        assert_eq!(found[&None].checks[52], 1);
    });
}

/// Two closets last done on 15 August 2026, every month: from 15 September to 15 August, 12 each, within the year that begins on
/// 1 September 2026. A third was due on 1 August: it is done today, then on the 1st of 11 months; the one a year on is another year's.
#[test]
fn a_years_checks_fall_in_the_weeks_that_one_counts_by_hand() {
    on_both(|fleet| {
        let office = Office::new(fleet, "2026-01-01");
        office.only_schedule("seats", "last_done", "P1M", None, &["wc_seat"]);
        for (label, done) in [
            ("WC-1", "2026-08-15"),
            ("WC-2", "2026-08-15"),
            ("WC-3", "2026-07-01"),
        ] {
            let stand = office.stand(label, FixtureKind::WaterCloset, None, &[]);
            office.result(stand, "", "wc_seat", "pass", done);
        }
        let found = look(&office, &Scope::All);
        assert_eq!(found.len(), 1, "nobody is named, so all of it is nobody's");
        let weeks = &found[&None];
        assert_eq!(weeks.checks.iter().sum::<u64>(), 2 * 12 + 12);
        assert_eq!((weeks.checks.len(), weeks.checks[52]), (53, 0));
        assert_eq!(
            &weeks.checks[..6],
            [1, 0, 2, 0, 1, 0],
            "1 and 15 September, 1 October"
        );
        let minutes: f64 = weeks.minutes.iter().sum();
        let each = minutes / 36.0;
        assert!(each > 0.0 && (weeks.minutes[2] - 2.0 * each).abs() < 1e-9);
        let elsewhere = look(&office, &Scope::Buildings(std::collections::BTreeSet::new()));
        assert!(elsewhere.is_empty(), "who sees no building sees no load");
    });
}
