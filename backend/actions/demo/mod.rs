//! Makes an invented fleet in an empty database: people, buildings, two years of visits, results and deficiencies.
//!
//! A building at a time, each in one transaction, so that a fleet of any size is made in little memory.

mod closed;
mod labels;
mod measured;
mod past;
mod phones;
mod today;
mod turnovers;
mod water;

use std::collections::{BTreeMap, HashMap};

use crate::clock::Now;
use crate::demo::{Scenario, house, people, words};
use crate::domain::due::Book;
use crate::domain::register::person::{Role, Standing};
use crate::domain::register::{BuildingId, LanguageTag, PersonFacts, PersonId, PortfolioFacts, PortfolioId};
use crate::error::{Error, Result};
use crate::store::fleet::{self, Register};
use crate::store::{Db, Tx, checks, portfolios, schedules};

/// The office's people and portfolios, in the order in which they were made.
struct Office {
    register: Register,
    portfolios: Vec<(String, PortfolioId)>,
    technicians: Vec<(String, PersonId)>,
}

/// Whether there is a fleet already.
///
/// # Errors
/// When the database does not answer.
pub fn is_made(db: &Db) -> Result<bool> {
    Ok(!db.read(crate::store::people::nobody)?)
}

/// Makes the fleet; `told` hears how many rental units are made of how many.
///
/// # Errors
/// When the database is not empty or refuses.
pub fn make(db: &Db, now: Now, scenario: &Scenario, mut told: impl FnMut(usize, usize)) -> Result<()> {
    let words = words::builtin().map_err(Error::internal)?;
    if is_made(db)? {
        return Err(Error::refused(
            "There is a fleet in this folder already. Give another with --dir, or leave --no-serve out to serve this one.",
        ));
    }
    let office = db.write(|tx| make_office(tx, now, scenario, &words))?;
    db.write(|tx| closed::move_some(tx, now))?;
    let book = db.read(schedules::book)?;
    let mut made = 0;
    for (number, size) in scenario.sizes().into_iter().enumerate() {
        db.write(|tx| make_building(tx, now, scenario, &words, &office, &book, (number, size)))?;
        made += size;
        told(made, scenario.units);
    }
    let (_, technician) = office
        .technicians
        .first()
        .ok_or_else(|| Error::internal("the demo has no technician"))?;
    let name = db
        .read(|conn| crate::store::people::by_id(conn, *technician))?
        .person
        .facts
        .name;
    turnovers::live(db, scenario, (*technician, &name))?;
    labels::live(db, now)?;
    let technicians: Vec<PersonId> = office.technicians.iter().map(|(_, id)| *id).collect();
    today::live(db, scenario, &technicians)?;
    phones::live(db, now, *technician)
}

fn make_office(tx: &mut Tx<'_>, now: Now, scenario: &Scenario, words: &words::Words) -> Result<Office> {
    water::prices(tx)?;
    let mut office = Office {
        register: Register::default(),
        portfolios: Vec::new(),
        technicians: Vec::new(),
    };
    let names = words.portfolios.iter().take(people::portfolios(scenario, words));
    for (number, name) in names.enumerate() {
        let facts = PortfolioFacts {
            code: format!("P{}", number + 1),
            name: name.clone(),
        };
        let id = portfolios::insert(tx, &facts)?;
        office.register.portfolios.insert(facts.code.clone(), id);
        office.portfolios.push((facts.code, id));
    }
    for person in people::everybody(scenario, words) {
        let facts = PersonFacts {
            name: person.name,
            email: person.email.clone(),
            time_zone: chrono_tz::America::New_York,
            digest_hour: person.digest_hour,
            language: LanguageTag::usual(),
        };
        let id = crate::store::people::insert(tx, now, &facts, person.role, Standing::Active)?;
        match (
            person.role,
            person.portfolio.and_then(|number| office.portfolios.get(number)),
        ) {
            (Role::Owner, Some((_, portfolio))) => {
                crate::store::assignments::replace(tx, id, Role::Owner, &[portfolio.0])?
            }
            (Role::Technician, _) => {
                office.register.technicians.insert(person.email.clone(), id);
                office.technicians.push((person.email, id));
            }
            _ => {}
        }
    }
    office.register.checks = checks::ids_by_code(tx)?.into_iter().collect::<HashMap<_, _>>();
    Ok(office)
}

fn make_building(
    tx: &mut Tx<'_>,
    now: Now,
    scenario: &Scenario,
    words: &words::Words,
    office: &Office,
    book: &Book,
    (number, size): (usize, usize),
) -> Result<()> {
    let none = || Error::internal("the demo has no portfolio or no technician");
    let portfolio = office
        .portfolios
        .get(number % office.portfolios.len().max(1))
        .ok_or_else(none)?;
    let technician = office
        .technicians
        .get(number % office.technicians.len().max(1))
        .ok_or_else(none)?;
    let inventory =
        house::make(scenario, words, number, size, &portfolio.0, &technician.0).map_err(Error::internal)?;
    let code = inventory.facts.code.clone();
    let fixtures = fleet::save(tx, &office.register, None, inventory, now.0)?;
    let building: BuildingId = fleet::by_codes(tx, std::slice::from_ref(&code))?
        .get(&code)
        .copied()
        .ok_or_else(|| Error::internal("the building that was just made is not there"))?;
    crate::store::buildings::let_see(tx, technician.1, building)?;
    closed::live(tx, building, number)?;
    past::live(tx, scenario, words, book, (building, number), technician.1)?;
    if number == 0 {
        measured::live(tx, scenario, building, technician.1)?;
    }
    water::live(tx, scenario, (building, number), technician.1)?;
    crate::store::due::refresh_by(tx, book, &fixtures)
}

/// Positions by the unit they belong to, in the order of the units' keys.
type ByUnit<T> = BTreeMap<i64, Vec<T>>;
