//! An invented fleet of a size, imported as an office would: buildings of 200 fixtures, units of ten.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::OnceLock;

use anglestop::actions::{import_fleet, setup};
use anglestop::clock::{Clock, Now};
use anglestop::domain::register::person::Actor;
use anglestop::exchange::csv::fleet::source::Given;
use anglestop::store::{DatabaseUrl, Db};
use diesel::connection::SimpleConnection as _;
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Text};

use super::timing::timed;

/// Days before today on which the first buildings joined; the others did in the sixty days after.
const JOINED_DAYS_AGO: u64 = 71;

const A_UNIT: [&str; 10] = [
    "lavatory",
    "kitchen_sink",
    "shower",
    "bathtub",
    "smoke_alarm",
    "co_alarm",
    "gfci_outlet",
    "unit_shutoff",
    "disposer",
    "dishwasher",
];
const UNITS_A_BUILDING: usize = 20;
/// Buildings for each 200 fixtures; at a million they are 5,000.
const A_BUILDING: usize = UNITS_A_BUILDING * A_UNIT.len();

#[derive(Debug, Clone)]
pub enum Database {
    Sqlite,
    Postgres(String),
}

impl Database {
    pub fn name(&self) -> &'static str {
        match self {
            Self::Sqlite => "SQLite",
            Self::Postgres(_) => "PostgreSQL",
        }
    }
}

/// A fleet in a database of its own that goes away with it.
pub struct Made {
    pub db: Db,
    pub url: String,
    pub fixtures: usize,
    pub is_sqlite: bool,
    alarms: OnceLock<Vec<i64>>,
    folder: tempfile::TempDir,
    schema: Option<(String, String)>,
}

/// Today, the same instant for the whole run, since the server that is measured looks at the clock too.
pub fn now() -> Now {
    static BEGUN: OnceLock<Now> = OnceLock::new();
    *BEGUN.get_or_init(|| Clock::System.now())
}

impl Made {
    pub fn import(database: &Database, fixtures: usize) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (url, schema) = match database {
            Database::Sqlite => (
                format!("sqlite://{}", folder.path().join("fleet.db").display()),
                None,
            ),
            Database::Postgres(server) => {
                let schema = format!("bench_{}", uuid::Uuid::new_v4().simple());
                on_server(server, &format!("CREATE SCHEMA {schema}"));
                let joint = if server.contains('?') { '&' } else { '?' };
                let url = format!("{server}{joint}options=-csearch_path%3D{schema}");
                (url, Some((server.clone(), schema)))
            }
        };
        let db = Db::open(&url.parse::<DatabaseUrl>().unwrap()).unwrap();
        setup::prepare(&db, now()).unwrap();
        let fleet = Self {
            db,
            url,
            fixtures,
            is_sqlite: schema.is_none(),
            alarms: OnceLock::new(),
            folder,
            schema,
        };
        let files = [Given {
            name: "fleet.csv".to_owned(),
            bytes: csv(fixtures),
        }];
        let (report, took) = timed(|| {
            import_fleet::import(&fleet.db, &Actor::operator(), now(), &files, &mut |_| {}).unwrap()
        });
        assert!(report.is_sound(), "{:?}", report.problems.first());
        fleet.settle();
        let rows = fleet.count("due_rows");
        println!(
            "import: {:.1} s, {rows} due rows, {:.0} fixtures a second",
            took.as_secs_f64(),
            fixtures as f64 / took.as_secs_f64()
        );
        fleet
    }

    /// Lets the database gather its own statistics, as it does by itself in time.
    pub fn settle(&self) {
        self.db
            .write(|tx| {
                if self.is_sqlite {
                    diesel::sql_query("PRAGMA optimize").execute(&mut **tx)?;
                } else {
                    // Of this fleet alone: the server may hold many others.
                    let tables =
                        "SELECT tablename AS name FROM pg_tables WHERE schemaname = current_schema()";
                    for table in diesel::sql_query(tables).load::<Name>(&mut **tx)? {
                        diesel::sql_query(format!("ANALYZE {}", table.name)).execute(&mut **tx)?;
                    }
                }
                Ok(())
            })
            .unwrap();
    }

    pub fn count(&self, table: &str) -> i64 {
        self.db
            .read(|conn| {
                let query = format!("SELECT count(*) AS number FROM {table}");
                Ok(diesel::sql_query(query).get_result::<Number>(conn)?.number)
            })
            .unwrap()
    }

    /// The keys of all smoke alarms.
    pub fn smoke_alarms(&self) -> &[i64] {
        self.alarms.get_or_init(|| {
            let read = self.db.read(|conn| {
                let query = "SELECT id AS number FROM fixtures WHERE kind = 'smoke_alarm' ORDER BY id";
                Ok(diesel::sql_query(query).load::<Number>(conn)?)
            });
            read.unwrap().into_iter().map(|found| found.number).collect()
        })
    }

    pub fn file(&self) -> PathBuf {
        self.folder.path().join("fleet.db")
    }
}

impl Drop for Made {
    fn drop(&mut self) {
        if let Some((server, schema)) = &self.schema {
            on_server(server, &format!("DROP SCHEMA {schema} CASCADE"));
        }
    }
}

#[derive(QueryableByName)]
pub struct Number {
    #[diesel(sql_type = BigInt)]
    pub number: i64,
}

#[derive(QueryableByName)]
struct Name {
    #[diesel(sql_type = Text)]
    name: String,
}

fn on_server(server: &str, statement: &str) {
    PgConnection::establish(server)
        .unwrap()
        .batch_execute(statement)
        .unwrap();
}

/// A row a fixture. Buildings joined in the last months, so that some checks are overdue and most come later.
fn csv(fixtures: usize) -> Vec<u8> {
    let first = now().0.date() - chrono::Days::new(JOINED_DAYS_AGO);
    let mut text =
        String::from("building,building_name,time_zone,joined_on,unit,floor,tag,kind,installed_on\r\n");
    for at in 0..fixtures {
        let (building, place) = (at / A_BUILDING, at % A_BUILDING);
        let (unit, kind) = (place / A_UNIT.len(), A_UNIT[place % A_UNIT.len()]);
        let joined = first + chrono::Days::new((building * 7 % 60) as u64);
        let (year, month) = (2006 + at % 20, 1 + at % 12);
        write!(
            text,
            "B{building:05},House {building},America/Chicago,{joined},{},{},{}-{},{kind},{year}-{month:02}-15\r\n",
            101 + unit,
            1 + unit / 4,
            kind[..2].to_uppercase(),
            1 + place % A_UNIT.len(),
        )
        .unwrap();
    }
    text.into_bytes()
}
