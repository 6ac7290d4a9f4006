//! 5,000 rows are imported within ten seconds by a release build (measured on two cores: 1 s on SQLite, 2 s on PostgreSQL). A debug build is
//! given more, since it shares the machine with the rest of the suite; what it catches is a query for each row.

use std::fmt::Write as _;
use std::time::Instant;

use super::{import, one, text};
use crate::support::on_both;

/// 20 buildings of 25 units with 10 fixtures each.
fn five_thousand_rows() -> String {
    const KINDS: [&str; 10] = [
        "water_closet",
        "lavatory",
        "bathtub",
        "kitchen_sink",
        "dishwasher",
        "water_heater",
        "smoke_alarm",
        "co_alarm",
        "gfci_outlet",
        "washing_machine",
    ];
    let mut file =
        "building,time_zone,joined_on,unit,floor,room,tag,kind,maker,last_done:supply_line_sound\n"
            .to_owned();
    for building in 1..=20 {
        for unit in 1..=25 {
            for (at, kind) in KINDS.iter().enumerate() {
                let _ = writeln!(
                    file,
                    "B{building},America/Chicago,2026-01-05,{unit},{},Room {},T-{at},{kind},Northfall,2025-0{}-11",
                    unit / 5 + 1,
                    at / 4,
                    at % 9 + 1
                );
            }
        }
    }
    file
}

const MOST_S: u64 = if cfg!(debug_assertions) { 45 } else { 10 };

#[test]
fn five_thousand_rows_are_imported_in_seconds() {
    on_both(|fleet| {
        let file = text(&five_thousand_rows());
        let begun = Instant::now();
        let report = import(&fleet.db, &file);
        let took = begun.elapsed();
        assert_eq!(report.problems, []);
        assert_eq!(report.counts.fixtures.added, 5000);
        eprintln!("5,000 rows took {took:.1?}");
        assert!(took.as_secs() < MOST_S, "{took:?}");
        let begun = Instant::now();
        assert!(import(&fleet.db, &file).counts.is_unchanged());
        assert_eq!(one(&fleet.db).lines().count(), 5001);
        eprintln!("the same again and the export took {:.1?}", begun.elapsed());
    });
}
