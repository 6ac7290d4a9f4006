//! A fleet in and out: what is read, what is refused with which words, and that nothing is lost on the way round.

mod broken;
mod browser;
mod checks;
mod laid_over;
mod page;
pub mod python;
mod round_trip;
mod speed;

use std::path::{Path, PathBuf};

use anglestop::actions::export::{self, Which};
use anglestop::actions::import_fleet::{self, Report};
use anglestop::clock::Now;
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::exchange::csv::Audience;
use anglestop::exchange::csv::fleet::source::Given;
use anglestop::store::{Db, due, fleet, schedules};

/// The instant of every import here.
pub fn now() -> Now {
    Now("2026-11-25T09:00:00".parse().unwrap())
}

fn seeds() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("seeds")
}

/// A file of `seeds/`.
pub fn seed(name: &str) -> Vec<Given> {
    vec![Given {
        name: name.to_owned(),
        bytes: std::fs::read(seeds().join(name)).unwrap(),
    }]
}

/// A folder of `seeds/`.
pub fn seed_folder(name: &str) -> Vec<Given> {
    let mut files: Vec<Given> = std::fs::read_dir(seeds().join(name))
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            Given {
                name: path.file_name().unwrap().to_string_lossy().into_owned(),
                bytes: std::fs::read(path).unwrap(),
            }
        })
        .collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}

/// A file with this text.
pub fn text(text: &str) -> Vec<Given> {
    vec![Given {
        name: "fleet.csv".to_owned(),
        bytes: text.as_bytes().to_vec(),
    }]
}

pub fn import(db: &Db, files: &[Given]) -> Report {
    import_fleet::import(db, &Actor::operator(), now(), files, &mut |_| {}).unwrap()
}

/// Imports what must be sound, and checks that its due rows are what the ground state says.
pub fn import_soundly(db: &Db, files: &[Given]) -> Report {
    let report = import(db, files);
    assert_eq!(report.problems, []);
    assert_due_rows(db);
    report
}

fn assert_due_rows(db: &Db) {
    db.read(|conn| {
        let book = schedules::book(conn)?;
        for building in fleet::buildings(conn, &Scope::All)? {
            assert_eq!(due::differences(conn, &book, building)?, []);
        }
        Ok(())
    })
    .unwrap();
}

/// The fleet as one CSV.
pub fn one(db: &Db) -> String {
    let mut out = Vec::new();
    db.read(|conn| export::fleet(conn, &Scope::All, &Which::All, &mut out, Audience::Program))
        .unwrap();
    String::from_utf8(out).unwrap()
}

/// The fleet as a folder.
pub fn folder(db: &Db) -> Vec<Given> {
    let files = db
        .read(|conn| export::folder(conn, &Scope::All, |_| Ok(Vec::new()), Audience::Program))
        .unwrap();
    let mut files: Vec<Given> = files
        .into_iter()
        .map(|(file, bytes)| Given {
            name: file.name().to_owned(),
            bytes,
        })
        .collect();
    let (mut of_checks, mut of_calendars, mut of_schedules) = (Vec::new(), Vec::new(), Vec::new());
    db.read(|conn| {
        export::checks(conn, &mut of_checks, Audience::Program)?;
        export::calendars(conn, &Scope::All, &mut of_calendars, Audience::Program)?;
        export::schedules(conn, &mut of_schedules, Audience::Program)
    })
    .unwrap();
    for (name, bytes) in [
        ("checks.csv", of_checks),
        ("calendars.csv", of_calendars),
        ("schedules.csv", of_schedules),
    ] {
        let name = name.to_owned();
        files.push(Given { name, bytes });
    }
    files
}

/// How many rows a table has.
pub fn rows_of(db: &Db, table: &str) -> i64 {
    #[derive(diesel::QueryableByName)]
    struct Count {
        #[diesel(sql_type = diesel::sql_types::BigInt)]
        n: i64,
    }
    use diesel::RunQueryDsl as _;
    db.read(|conn| {
        let count: Count =
            diesel::sql_query(format!("SELECT count(*) AS n FROM {table}")).get_result(conn)?;
        Ok(count.n)
    })
    .unwrap()
}
