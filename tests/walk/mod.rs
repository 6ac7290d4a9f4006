//! The technician's phone in a headless Chromium: a turnover is walked and closed without a line, and nothing is lost whatever happens to
//! the tab, the line, the server, the clock, the room on the phone or the session.

mod faults;
mod full;
mod kills;
mod line;
mod look;
mod old_page;
mod people;
mod readings;
mod taps;
pub mod thumb;
mod words;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use anglestop::actions::register::add_household;
use anglestop::actions::turnovers::{Open, Stay, open};
use anglestop::clock::Now;
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::domain::register::{HouseholdText, TurnoverId, UnitId};
use anglestop::domain::result::Entry;
use anglestop::domain::trade::TurnoverStage;
use anglestop::domain::turnover::TurnoverText;
use anglestop::store::lists::turnovers::{Survey, Surveyor};
use anglestop::store::{Db, deficiencies, results, spots, turnovers, units};

use crate::support::demo;
use diesel::connection::SimpleConnection as _;
use diesel::{Connection as _, SqliteConnection};

use crate::support::Fleet;
use crate::support::server::Server;
use line::Line;

/// A day later than the fleet's, UTC: ten in the morning where its buildings stand.
pub const MORNING: &str = "2026-11-26T16:00:00";
/// The same day, four hours on.
pub const AFTERNOON: &str = "2026-11-26T20:00:00";

/// An office with a vacant unit, and a line to it that a test can cut.
pub struct Office<'a> {
    pub fleet: &'a Fleet,
    pub db: &'a Db,
    pub server: Server,
    pub line: Line,
    pub turnover: TurnoverId,
    pub unit: UnitId,
    pub label: String,
}

impl<'a> Office<'a> {
    /// A demo fleet of `rentals` units, with a turnover opened this morning in the one where most is asked.
    pub fn open(fleet: &'a Fleet, rentals: usize) -> Self {
        demo::make(fleet, rentals);
        let db = &fleet.db;
        let unit = fullest(db);
        let turnover = open(
            db,
            &Actor::operator(),
            Now(MORNING.parse().unwrap()),
            &Open {
                unit,
                text: TurnoverText {
                    move_out_on: "2026-11-26".to_owned(),
                    move_in_on: "2026-11-26".to_owned(),
                    note: String::new(),
                },
                stay: Stay::EndsOnMoveOut,
            },
        )
        .unwrap();
        let server = Server::start(db, MORNING);
        let line = Line::to(&server.address);
        let label = db
            .read(|conn| units::by_key(conn, &Actor::operator().scope, unit))
            .unwrap()
            .1
            .facts
            .label;
        Self {
            fleet,
            db,
            server,
            line,
            turnover,
            unit,
            label,
        }
    }

    /// The server is stopped and another one takes its place, with its clock at `now`.
    pub fn restart(&mut self, now: &str) {
        self.server = Server::start(self.db, now);
        self.line.lead_to(&self.server.address);
    }

    /// The results of the turnover, in the order in which they were done.
    pub fn results(&self) -> Vec<Entry> {
        let found = self
            .db
            .read(|conn| results::of_turnover(conn, self.turnover))
            .unwrap();
        found.into_iter().map(|(_, entry)| entry).collect()
    }

    /// Holds what arrived to what the phone kept: each answer once, none else, in the order in which they were done.
    pub fn has_exactly(&self, kept: &[String]) {
        let arrived: Vec<String> = self
            .results()
            .iter()
            .map(|entry| entry.client_id.to_string())
            .collect();
        let once: BTreeSet<&String> = arrived.iter().collect();
        assert_eq!(once.len(), arrived.len(), "an answer arrived twice");
        let lost: Vec<&String> = kept.iter().filter(|id| !once.contains(id)).collect();
        assert!(lost.is_empty(), "{} answers were lost: {lost:?}", lost.len());
        assert_eq!(arrived.len(), kept.len(), "more arrived than the phone kept");
        assert_eq!(arrived, kept, "in the order in which they were done");
    }
}

impl Office<'_> {
    /// The most answers that any item has.
    pub fn per_item(&self) -> usize {
        let mut counts = std::collections::HashMap::new();
        for entry in self.results() {
            let key = (
                entry.fixture,
                entry.part,
                entry.check,
                entry.turnover.map(|(_, stage)| stage),
            );
            *counts.entry(key).or_insert(0) += 1;
        }
        counts.into_values().max().unwrap_or(0)
    }

    /// How many as-found checks have no answer.
    pub fn left(&self) -> usize {
        let survey = self.survey();
        survey.list.count(TurnoverStage::Found).left()
    }

    fn survey(&self) -> Survey {
        let now = Now(AFTERNOON.parse().unwrap());
        self.db
            .read(|conn| Surveyor::new(conn, now)?.survey(conn, &Scope::All, self.turnover))
            .unwrap()
    }

    /// The outcome that counts of the item with more than one answer.
    pub fn last_said(&self) -> String {
        let survey = self.survey();
        let twice = survey
            .list
            .items
            .iter()
            .find(|item| item.answers.len() > 1)
            .unwrap();
        twice.last().unwrap().entry.outcome.to_string()
    }

    /// Ends every session, as a manager who disables somebody or a night that is too long does.
    pub fn end_sessions(&self) {
        self.server.clock.set("2027-02-01T16:00:00".parse().unwrap());
    }

    /// Does `work` while the server's clock runs on from an instant.
    pub fn with_a_running_clock<T>(&self, from: &str, work: impl FnOnce() -> T) -> T {
        let (from, began) = (from.parse::<chrono::NaiveDateTime>().unwrap(), Instant::now());
        let is_over = AtomicBool::new(false);
        std::thread::scope(|scope| {
            scope.spawn(|| {
                while !is_over.load(Ordering::SeqCst) {
                    let passed = chrono::TimeDelta::from_std(began.elapsed()).unwrap();
                    self.server.clock.set(from + passed);
                    std::thread::sleep(Duration::from_millis(10));
                }
            });
            let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
            is_over.store(true, Ordering::SeqCst);
            done.unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        })
    }

    /// Everybody reads this language from now on.
    pub fn speak(&self, language: &str) {
        let file = self.fleet.url.strip_prefix("sqlite://").unwrap();
        SqliteConnection::establish(file)
            .unwrap()
            .batch_execute(&format!("UPDATE people SET language = '{language}'"))
            .unwrap();
    }

    /// Plants what must never lie on a phone, and answers with it.
    pub fn plant(&self) -> Vec<String> {
        let secrets = [
            "Zyphra Quill",
            "keybox 7714",
            "dog named Brutus",
            "after 16:40 only",
        ];
        let text = HouseholdText {
            name: secrets[0].to_owned(),
            language: "en".to_owned(),
            contact: secrets[1].to_owned(),
            agreed_hours: secrets[3].to_owned(),
            no_entry_days: secrets[2].to_owned(),
            moved_in_on: "2026-12-20".to_owned(),
        };
        let now = Now(MORNING.parse().unwrap());
        add_household::add(self.db, &Actor::operator(), now, self.unit, &text).unwrap();
        secrets.map(str::to_owned).to_vec()
    }
}

/// The file that lands in a folder.
pub fn downloaded(folder: &Path) -> PathBuf {
    let until = Instant::now() + Duration::from_secs(20);
    loop {
        let found = std::fs::read_dir(folder)
            .unwrap()
            .flatten()
            .map(|entry| entry.path());
        if let Some(file) = found
            .into_iter()
            .find(|path| path.extension().is_some_and(|end| end == "json"))
        {
            return file;
        }
        assert!(Instant::now() < until, "no file was offered");
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// The unit of the technician's building, without a turnover and with nothing wrong, in which the most fixtures stand.
fn fullest(db: &Db) -> UnitId {
    let rentals = db.read(units::rentals).unwrap();
    let free = rentals.into_iter().filter(|unit| {
        db.read(|conn| {
            let (building, _) = units::by_key(conn, &Scope::All, *unit)?;
            if building.facts.code != "ALDER-HOUSE" {
                return Ok(false);
            }
            let is_free = turnovers::open_of_unit(conn, *unit)?.is_none();
            Ok(is_free && deficiencies::standing_in(conn, &[*unit])?.is_empty())
        })
        .unwrap()
    });
    free.max_by_key(|unit| {
        db.read(|conn| spots::in_unit(conn, &Actor::operator().scope, *unit))
            .unwrap()
            .len()
    })
    .unwrap()
}
