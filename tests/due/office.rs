//! A small office that a test fills by hand, straight through the store.

use anglestop::clock::Now;
use anglestop::domain::due::{DueItem, Terms, read_timing};
use anglestop::domain::register::{
    BuildingFacts, BuildingId, BuildingText, FixtureFacts, FixtureId, Installed, PartFacts, PortfolioFacts,
    ScheduleId, TagId, UnitFacts, UnitId, UnitText,
};
use anglestop::domain::trade::{FixtureKind, PartKind};
use anglestop::store::fixtures::NewFixture;
use anglestop::store::{Tx, buildings, checks, due, fixtures, parts, portfolios, schedules, tags, units};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use diesel::sql_types::{BigInt, Date, Text, Timestamp};

use crate::support::Fleet;

/// "2026-02-28" as a day.
pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
}

pub const NOW: &str = "2026-09-01T12:00:00";

pub fn now() -> Now {
    Now(NOW.parse().unwrap())
}

/// A change by command, now.
pub fn by() -> schedules::By {
    schedules::By {
        at: now().0,
        person: None,
    }
}

/// One building with one unit.
pub struct Office<'f> {
    pub fleet: &'f Fleet,
    pub building: BuildingId,
    pub unit: UnitId,
}

/// A fixture at a place.
#[derive(Debug, Clone, Copy)]
pub struct Stand {
    pub tag: TagId,
    pub fixture: FixtureId,
}

impl<'f> Office<'f> {
    /// Building ALDER with unit 204; joined on a day, in Chicago.
    pub fn new(fleet: &'f Fleet, joined_on: &str) -> Self {
        let text = BuildingText {
            code: "ALDER".to_owned(),
            name: "Alder Court".to_owned(),
            time_zone: "America/Chicago".to_owned(),
            joined_on: joined_on.to_owned(),
            built_year: "1974".to_owned(),
            base_joint: "sealed".to_owned(),
            ..BuildingText::default()
        };
        let facts = BuildingFacts::read(&text, day("2026-09-01")).unwrap();
        let (building, unit) = fleet
            .db
            .write(|tx| {
                let portfolio = PortfolioFacts {
                    code: "MAIN".to_owned(),
                    name: "Main".to_owned(),
                };
                let portfolio = portfolios::insert(tx, &portfolio)?;
                let building = buildings::insert(tx, portfolio, None, &facts, now().0)?;
                Ok((building, insert_unit(tx, building, "204")))
            })
            .unwrap();
        Self {
            fleet,
            building,
            unit,
        }
    }

    pub fn write<T>(&self, work: impl FnOnce(&mut Tx<'_>) -> T) -> T {
        self.fleet.db.write(|tx| Ok(work(tx))).unwrap()
    }

    pub fn add_unit(&self, label: &str) -> UnitId {
        self.write(|tx| insert_unit(tx, self.building, label))
    }

    /// Puts a fixture with these parts in the office's unit and renews its due rows.
    pub fn stand(
        &self,
        label: &str,
        kind: FixtureKind,
        installed: Option<&str>,
        with: &[(PartKind, Option<&str>)],
    ) -> Stand {
        self.stand_in(self.unit, label, kind, installed, with)
    }

    pub fn stand_in(
        &self,
        unit: UnitId,
        label: &str,
        kind: FixtureKind,
        installed: Option<&str>,
        with: &[(PartKind, Option<&str>)],
    ) -> Stand {
        self.write(|tx| {
            let joined = buildings::by_key(
                tx,
                &anglestop::domain::register::person::Scope::All,
                self.building,
            )
            .unwrap()
            .facts
            .joined_on;
            let tag = tags::insert(tx, unit, None, label).unwrap();
            let fixture = insert_fixture(tx, tag, kind, installed, joined, None);
            for (part, installed) in with {
                let facts = PartFacts {
                    kind: *part,
                    installed: on(*installed),
                };
                parts::insert(tx, fixture, facts, joined).unwrap();
            }
            due::refresh_fixtures(tx, &[fixture]).unwrap();
            Stand { tag, fixture }
        })
    }

    /// Replaces what stands at a place on a day.
    pub fn replace(&self, old: Stand, kind: FixtureKind, on_day: &str) -> Stand {
        self.write(|tx| {
            diesel::sql_query("UPDATE fixtures SET status = 'replaced', stood_until = $1 WHERE id = $2")
                .bind::<Date, _>(day(on_day))
                .bind::<BigInt, _>(old.fixture.0)
                .execute(&mut **tx)
                .unwrap();
            let fixture = insert_fixture(tx, old.tag, kind, Some(on_day), day(on_day), Some(old.fixture));
            due::refresh_fixtures(tx, &[old.fixture, fixture]).unwrap();
            Stand {
                tag: old.tag,
                fixture,
            }
        })
    }

    /// Replaces a part on a day.
    pub fn replace_part(&self, stand: Stand, kind: PartKind, on_day: &str) {
        self.write(|tx| {
            diesel::sql_query(
                "UPDATE parts SET status = 'replaced', stood_until = $1 WHERE fixture_id = $2 AND kind = $3 AND status = 'in_service'",
            )
            .bind::<Date, _>(day(on_day))
            .bind::<BigInt, _>(stand.fixture.0)
            .bind::<Text, _>(anglestop::domain::code::Coded::code(kind))
            .execute(&mut **tx)
            .unwrap();
            let facts = PartFacts {
                kind,
                installed: on(Some(on_day)),
            };
            parts::insert(tx, stand.fixture, facts, day(on_day)).unwrap();
            due::refresh_fixtures(tx, &[stand.fixture]).unwrap();
        });
    }

    /// Records an outcome at noon UTC of a day and renews the due rows.
    pub fn result(&self, stand: Stand, part: &str, check: &str, outcome: &str, done: &str) {
        self.write(|tx| {
            let id = checks::by_code(tx, check).unwrap().unwrap().id;
            let instant: NaiveDateTime = day(done).and_hms_opt(18, 0, 0).unwrap();
            diesel::sql_query(
                "INSERT INTO results (client_id, building_id, unit_id, tag_id, fixture_id, part, check_id, check_version, outcome, \
                 reason, reading, note, done_at, done_on, received_at) \
                 SELECT $1, u.building_id, u.id, t.id, $2, $3, $4, 1, $5, '', '', '', $6, $7, $8 \
                 FROM tags t JOIN units u ON u.id = t.unit_id WHERE t.id = $9",
            )
            .bind::<Text, _>(uuid::Uuid::new_v4().to_string())
            .bind::<BigInt, _>(stand.fixture.0)
            .bind::<Text, _>(part.to_owned())
            .bind::<BigInt, _>(id.0)
            .bind::<Text, _>(outcome.to_owned())
            .bind::<Timestamp, _>(instant)
            .bind::<Date, _>(day(done))
            .bind::<Timestamp, _>(instant)
            .bind::<BigInt, _>(stand.tag.0)
            .execute(&mut **tx)
            .unwrap();
            due::refresh_fixtures(tx, &[stand.fixture]).unwrap();
        });
    }

    /// Notes that an import said when a check was last done.
    pub fn imported(&self, stand: Stand, part: &str, check: &str, done: &str) {
        self.write(|tx| {
            let id = checks::by_code(tx, check).unwrap().unwrap().id;
            diesel::sql_query(
                "INSERT INTO prior_done (tag_id, part, check_id, done_on) VALUES ($1, $2, $3, $4)",
            )
            .bind::<BigInt, _>(stand.tag.0)
            .bind::<Text, _>(part.to_owned())
            .bind::<BigInt, _>(id.0)
            .bind::<Date, _>(day(done))
            .execute(&mut **tx)
            .unwrap();
            due::refresh_fixtures(tx, &[stand.fixture]).unwrap();
        });
    }

    /// Switches every schedule off and adds one of the office's own for these checks.
    pub fn only_schedule(
        &self,
        code: &str,
        anchor: &str,
        rule: &str,
        start: Option<&str>,
        checks_asked: &[&str],
    ) {
        self.switch_all_off();
        self.add_schedule(code, anchor, rule, start, checks_asked, |_| {});
    }

    pub fn switch_all_off(&self) {
        self.write(|tx| {
            for schedule in schedules::load_all(tx).unwrap() {
                let mut terms = schedule.terms.clone();
                terms.active = false;
                schedules::update(tx, &schedule, &terms, by()).unwrap();
            }
            due::mark_stale(tx).unwrap();
        });
        due::renew_stale(&self.fleet.db).unwrap();
    }

    /// Adds a schedule with five days of lead and ten of grace, changed by `change`.
    pub fn add_schedule(
        &self,
        code: &str,
        anchor: &str,
        rule: &str,
        start: Option<&str>,
        checks_asked: &[&str],
        change: impl FnOnce(&mut Terms),
    ) -> ScheduleId {
        let id = self.write(|tx| {
            let ids = checks::ids_by_code(tx).unwrap();
            let mut terms = Terms {
                code: code.to_owned(),
                name: code.to_owned(),
                pack: None,
                active: true,
                recorded_only: false,
                timing: read_timing(anchor, rule, start.map(day), 5, 10, None).unwrap(),
                scope: anglestop::domain::due::Scope::default(),
                checks: checks_asked.iter().map(|check| ids[*check]).collect(),
                technician: None,
            };
            change(&mut terms);
            let id = schedules::insert(tx, &terms).unwrap();
            due::mark_stale(tx).unwrap();
            id
        });
        due::renew_stale(&self.fleet.db).unwrap();
        id
    }

    /// What is stored for a check on a fixture, after proving that all that is stored agrees with the ground state.
    pub fn stored(&self, stand: Stand, part: &str, check: &str) -> Option<Shown> {
        self.assert_verified();
        self.fleet
            .db
            .read(|conn| {
                let id = checks::by_code(conn, check)?.unwrap().id;
                let rows: Vec<StoredRow> = diesel::sql_query(
                    "SELECT s.code AS schedule, d.basis, d.counts_from, d.opens, d.due, d.last_day FROM due_items d \
                     JOIN schedules s ON s.id = d.schedule_id WHERE d.fixture_id = $1 AND d.part = $2 AND d.check_id = $3",
                )
                .bind::<BigInt, _>(stand.fixture.0)
                .bind::<Text, _>(part.to_owned())
                .bind::<BigInt, _>(id.0)
                .load(conn)?;
                assert!(rows.len() <= 1, "{rows:?}");
                Ok(rows.into_iter().next().map(Shown::from))
            })
            .unwrap()
    }

    /// What is computed for a check on a fixture as of a day.
    pub fn as_of(&self, stand: Stand, part: &str, check: &str, on_day: &str) -> Option<DueItem> {
        self.fleet
            .db
            .read(|conn| {
                let book = schedules::book(conn)?;
                let id = book.check_by_code(check).unwrap().id;
                let computed = due::compute_building(conn, &book, self.building, day(on_day))?;
                Ok(computed.rows.iter().find_map(|(_, row)| {
                    let part_code = row.part.map_or("", anglestop::domain::code::Coded::code);
                    let same = row.fixture == stand.fixture && part_code == part && row.check == id;
                    same.then_some(row.item)
                }))
            })
            .unwrap()
    }

    pub fn assert_verified(&self) {
        assert_eq!(self.differences(), []);
    }

    /// What is stored and not what the ground state says.
    pub fn differences(&self) -> Vec<due::Difference> {
        let read = self.fleet.db.read(|conn| {
            let book = schedules::book(conn)?;
            due::differences(conn, &book, self.building)
        });
        read.unwrap()
    }
}

#[derive(Debug, QueryableByName)]
struct StoredRow {
    #[diesel(sql_type = Text)]
    schedule: String,
    #[diesel(sql_type = Text)]
    basis: String,
    #[diesel(sql_type = Date)]
    counts_from: NaiveDate,
    #[diesel(sql_type = Date)]
    opens: NaiveDate,
    #[diesel(sql_type = Date)]
    due: NaiveDate,
    #[diesel(sql_type = Date)]
    last_day: NaiveDate,
}

/// A stored due row in words that a case can be compared with.
#[derive(Debug, PartialEq, Eq)]
pub struct Shown {
    pub schedule: String,
    pub basis: String,
    pub counts_from: String,
    pub opens: String,
    pub due: String,
    pub last_day: String,
}

impl From<StoredRow> for Shown {
    fn from(row: StoredRow) -> Self {
        Self {
            schedule: row.schedule,
            basis: row.basis,
            counts_from: row.counts_from.to_string(),
            opens: row.opens.to_string(),
            due: row.due.to_string(),
            last_day: row.last_day.to_string(),
        }
    }
}

fn on(installed: Option<&str>) -> Installed {
    installed.map_or(Installed::Unknown, |text| Installed::On(day(text)))
}

fn insert_unit(tx: &mut Tx<'_>, building: BuildingId, label: &str) -> UnitId {
    let text = UnitText {
        label: label.to_owned(),
        ..UnitText::default()
    };
    units::insert(tx, building, &UnitFacts::read(&text).unwrap()).unwrap()
}

fn insert_fixture(
    tx: &mut Tx<'_>,
    tag: TagId,
    kind: FixtureKind,
    installed: Option<&str>,
    stood_from: NaiveDate,
    replaces: Option<FixtureId>,
) -> FixtureId {
    let facts = FixtureFacts {
        kind,
        maker: String::new(),
        model: String::new(),
        installed: on(installed),
        note: String::new(),
    };
    let new = NewFixture {
        tag,
        facts: &facts,
        stood_from,
        replaces,
    };
    fixtures::insert(tx, &new).unwrap()
}
