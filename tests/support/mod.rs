//! A fleet on either database, a server of its own on loopback, and a person's browser without a picture.
//!
//! `ANGLESTOP_TEST_POSTGRES` names a PostgreSQL server that tests may make schemas in; `./ops/check` starts one and sets it.

pub mod chrome;
pub mod demo;
pub mod hand;
pub mod server;
pub mod two_owners;

use anglestop::actions::setup;
use anglestop::clock::Now;
use anglestop::store::{DatabaseUrl, Db};
use diesel::connection::SimpleConnection;
use diesel::{Connection, PgConnection, SqliteConnection};

/// A fresh database with the built-in checks and schedules, that goes away with the value.
pub struct Fleet {
    pub db: Db,
    pub url: String,
    _folder: Option<tempfile::TempDir>,
}

/// Runs a test on SQLite, then on PostgreSQL; the message of a failure names which.
pub fn on_both(test: impl Fn(&Fleet)) {
    for (name, fleet) in [("SQLite", sqlite()), ("PostgreSQL", postgres())] {
        let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| test(&fleet)));
        if let Err(panic) = outcome {
            eprintln!("failed on {name}");
            std::panic::resume_unwind(panic);
        }
    }
}

/// A fresh SQLite file.
pub fn sqlite() -> Fleet {
    let folder = tempfile::tempdir().unwrap();
    let url = format!("sqlite://{}", folder.path().join("fleet.db").display());
    open(url, Some(folder))
}

/// A fresh schema on the PostgreSQL server of the tests.
pub fn postgres() -> Fleet {
    let server = std::env::var("ANGLESTOP_TEST_POSTGRES")
        .expect("ANGLESTOP_TEST_POSTGRES names no PostgreSQL server; ./ops/check starts one and sets it");
    let schema = format!("test_{}", uuid::Uuid::new_v4().simple());
    PgConnection::establish(&server)
        .unwrap()
        .batch_execute(&format!("CREATE SCHEMA {schema}"))
        .unwrap();
    let joint = if server.contains('?') { '&' } else { '?' };
    open(format!("{server}{joint}options=-csearch_path%3D{schema}"), None)
}

/// A copy of an SQLite fleet as it stands.
pub fn copy_of(fleet: &Fleet) -> Fleet {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("fleet.db");
    SqliteConnection::establish(fleet.url.strip_prefix("sqlite://").unwrap())
        .unwrap()
        .batch_execute(&format!("VACUUM INTO '{}'", file.display()))
        .unwrap();
    SqliteConnection::establish(&file.to_string_lossy())
        .unwrap()
        .batch_execute("UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'database.mark'")
        .unwrap();
    let url = format!("sqlite://{}", file.display());
    Fleet {
        db: Db::open(&url.parse::<DatabaseUrl>().unwrap()).unwrap(),
        url,
        _folder: Some(folder),
    }
}

fn open(url: String, folder: Option<tempfile::TempDir>) -> Fleet {
    let db = Db::open(&url.parse::<DatabaseUrl>().unwrap()).unwrap();
    setup::prepare(&db, Now("2026-01-01T00:00:00".parse().unwrap())).unwrap();
    Fleet {
        db,
        url,
        _folder: folder,
    }
}
