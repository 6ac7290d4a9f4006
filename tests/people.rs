//! People on both databases: who gets in, by what, for how long, and who may do what.

mod command;
mod links;
mod roles;
mod session_ends;
mod set_up;
mod sign_in;

use std::cell::RefCell;

use anglestop::actions::people::hashing::Hasher;
use anglestop::actions::people::invite::{self, Invitation};
use anglestop::actions::people::reset;
use anglestop::actions::register::{add_building, add_portfolio};
use anglestop::clock::Now;
use anglestop::domain::register::person::{Actor, Role};
use anglestop::domain::register::{BuildingText, Person, PersonId, PersonText, PortfolioText};
use anglestop::store::{Db, people};
use diesel::sql_types::Text;
use diesel::{Connection as _, PgConnection, RunQueryDsl as _};

use crate::support::Fleet;

/// A password that keeps the rules, and another.
pub const PASSWORD: &str = "vexed quokka jar bloom";
const ANOTHER: &str = "tin roof rain gutter";

const NOON: &str = "2026-11-25T12:00:00";

fn at(instant: &str) -> Now {
    Now(instant.parse().unwrap())
}

fn noon() -> Now {
    at(NOON)
}

/// So many seconds after noon.
fn after_noon(seconds: i64) -> Now {
    Now(noon().0 + chrono::TimeDelta::seconds(seconds))
}

/// Gives a person a password, as whoever runs the server does.
pub fn give_password(db: &Db, email: &str, password: &str) {
    let person = person(db, email);
    reset::set(
        db,
        &Hasher::new(2),
        &Actor::operator(),
        noon(),
        person.id,
        password,
    )
    .unwrap();
}

fn person(db: &Db, email: &str) -> Person {
    db.read(|conn| people::by_email(conn, email)).unwrap().unwrap()
}

/// A building `ALDER` in the portfolio `LIND`, and one `BIRCH` in `MOSS`.
fn two_buildings(db: &Db) {
    for (portfolio, building, name) in [("LIND", "ALDER", "Alder House"), ("MOSS", "BIRCH", "Birch Row")] {
        let text = PortfolioText {
            code: portfolio.to_owned(),
            name: format!("{portfolio} holdings"),
        };
        add_portfolio::add(db, &Actor::operator(), noon(), &text).unwrap();
        let form = add_building::BuildingForm {
            portfolio: portfolio.to_owned(),
            text: BuildingText {
                code: building.to_owned(),
                name: name.to_owned(),
                time_zone: "America/Chicago".to_owned(),
                ..BuildingText::default()
            },
            ..Default::default()
        };
        add_building::add(db, &Actor::operator(), noon(), &form).unwrap();
    }
}

fn invitation(name: &str, role: Role, places: &[&str]) -> Invitation {
    Invitation {
        person: PersonText {
            name: name.to_owned(),
            email: format!("{}@keel.example", name.to_lowercase()),
            time_zone: "America/Chicago".to_owned(),
            digest_hour: String::new(),
            language: String::new(),
        },
        role,
        places: places.iter().map(|&place| place.to_owned()).collect(),
    }
}

/// Adds an active person with [`PASSWORD`]; their address is `name@keel.example`.
fn add(db: &Db, name: &str, role: Role, places: &[&str]) -> PersonId {
    let invitation = invitation(name, role, places);
    invite::with_password(
        db,
        &Hasher::new(2),
        &Actor::operator(),
        noon(),
        &invitation,
        PASSWORD,
    )
    .unwrap()
}

#[derive(diesel::QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    line: String,
}

/// Everything that the database of a fleet holds, as text.
fn dump(fleet: &Fleet) -> String {
    if let Some(file) = fleet.url.strip_prefix("sqlite://") {
        let read = |ending: &str| std::fs::read(format!("{file}{ending}")).unwrap_or_default();
        return String::from_utf8_lossy(&[read(""), read("-wal")].concat()).into_owned();
    }
    let conn = RefCell::new(PgConnection::establish(&fleet.url).unwrap());
    let lines = |query: &str| -> Vec<String> {
        let rows: Vec<Line> = diesel::sql_query(query).load(&mut *conn.borrow_mut()).unwrap();
        rows.into_iter().map(|row| row.line).collect()
    };
    lines("SELECT table_name::text AS line FROM information_schema.tables WHERE table_schema = current_schema()")
        .iter()
        .flat_map(|table| lines(&format!("SELECT t::text AS line FROM {table} t")))
        .collect()
}
