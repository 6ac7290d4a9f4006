//! What waits for each technician of an invented fleet today: a turnover that was begun, and visits into units where something is due.

use chrono::Days;

use super::turnovers::{Reaches, begin, noon};
use crate::actions::visits::{self as of_visits, PlanVisit};
use crate::demo::Scenario;
use crate::demo::chance::Chance;
use crate::domain::register::person::{Actor, Role, Scope};
use crate::domain::register::{PersonId, UnitId};
use crate::error::Result;
use crate::store::{AnyConnection, Db, assignments, deficiencies, people, turnovers, units};

/// Visits of a technician's day.
const VISITS: usize = 3;
/// How long ahead a household was told, days.
const TOLD_DAYS: u64 = 4;

/// Gives each technician a day's work.
///
/// # Errors
/// When the database refuses.
pub fn live(db: &Db, scenario: &Scenario, technicians: &[PersonId]) -> Result<()> {
    let mut chance = Chance::new(scenario.seed, 4);
    for &technician in technicians {
        let (actor, rentals) = db.read(|conn| theirs(conn, technician))?;
        let free = db.read(|conn| free(conn, &rentals))?;
        if let Some(&unit) = free.first() {
            begin(db, &actor, scenario.as_of, unit, Reaches::Begun, &mut chance)?;
        }
        let told = scenario
            .as_of
            .checked_sub_days(Days::new(TOLD_DAYS))
            .unwrap_or(scenario.as_of);
        let mut planned = 0;
        for unit in free.into_iter().skip(1) {
            let services = db.read(|conn| of_visits::open_there(conn, &actor, unit, scenario.as_of))?;
            if services.is_empty() || planned == VISITS {
                continue;
            }
            let visit = PlanVisit {
                unit,
                on_date: scenario.as_of,
                technician: Some(technician),
                services,
                earlier_because: String::new(),
                note: String::new(),
            };
            of_visits::plan(db, &actor, noon(told), &visit)?;
            planned += 1;
        }
    }
    Ok(())
}

/// A technician as one who works, and the rental units of their buildings.
fn theirs(conn: &mut AnyConnection, technician: PersonId) -> Result<(Actor, Vec<UnitId>)> {
    let person = people::by_id(conn, technician)?.person;
    let scope = assignments::scope_of(conn, technician, Role::Technician)?;
    let mut rentals = Vec::new();
    for unit in units::rentals(conn)? {
        let (building, _) = units::by_key(conn, &Scope::All, unit)?;
        if scope.sees(building.id) {
            rentals.push(unit);
        }
    }
    let actor = Actor {
        person: Some(technician),
        role: Role::Technician,
        scope,
        name: person.facts.name,
    };
    Ok((actor, rentals))
}

/// The units without a turnover, in which nothing grave stands.
fn free(conn: &mut AnyConnection, rentals: &[UnitId]) -> Result<Vec<UnitId>> {
    let mut free = Vec::new();
    for &unit in rentals {
        let standing = deficiencies::standing_in(conn, &[unit])?;
        let is_grave = standing.iter().any(|one| one.severity.is_grave());
        if !is_grave && turnovers::open_of_unit(conn, unit)?.is_none() {
            free.push(unit);
        }
    }
    Ok(free)
}
