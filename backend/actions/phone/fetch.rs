//! Which units a phone takes along: those of today's visits of whoever carries it, left-over ones and those that nobody was named for, and
//! those in turnover, the nearest move-in first; in walking order.

use std::collections::{BTreeSet, HashSet};

use chrono::Days;
use uuid::Uuid;

use super::checklist;
use super::ground::Ground;
use super::words::Words;
use crate::actions::condition::office;
use crate::actions::visits as of_visits;
use crate::clock::Now;
use crate::domain::register::label::sort_order;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{PersonId, UnitId};
use crate::domain::result::Wrong;
use crate::error::Result;
use crate::exchange::phone::units::Unit as Wire;
use crate::store::lists::turnovers::{self as lists, Surveyor, Which};
use crate::store::{AnyConnection, Db, checks, phones, turnovers, units, visits};

/// The most units of one phone.
pub const MOST_UNITS: usize = 40;

/// How many of them may be visits of nobody while turnovers wait.
const ROOM_FOR_TURNOVERS: usize = 10;

/// A unit to take along.
#[derive(Debug, Clone)]
pub struct Fetched {
    /// Which.
    pub unit: UnitId,
    /// Its checklist.
    pub list: Wire,
    /// What stands as deficient there, for the drawings.
    pub wrong: Vec<Wrong>,
}

/// The units with their checklists.
///
/// # Errors
/// [`crate::error::Error::Forbidden`] for owners; when the database does not answer.
pub fn fetch(conn: &mut AnyConnection, actor: &Actor, now: Now, words: &Words) -> Result<Vec<Fetched>> {
    let person = super::staff(actor)?;
    let surveyor = Surveyor::new(conn, now)?;
    let checks = checks::load_all(conn)?;
    let lives = office::figures(conn)?.lives;
    let mut found = Vec::new();
    for unit in chosen(conn, actor, person, now)? {
        let (building, unit) = units::by_key(conn, &Scope::All, unit)?;
        let order = (
            building.facts.code.clone(),
            unit.facts.floor,
            sort_order(&unit.facts.label),
        );
        let today = now.date_in(building.facts.time_zone);
        let visit = of_visits::mine(conn, actor, unit.id, today)?;
        let survey = match turnovers::open_of_unit(conn, unit.id)? {
            Some(turnover) => Some(surveyor.of(conn, turnover)?),
            None => None,
        };
        let ground = Ground::load(conn, building, unit, today, &checks, &lives)?;
        found.push((
            order,
            checklist::list(conn, actor, &ground, survey.as_ref(), visit.as_ref(), words)?,
        ));
    }
    found.sort_by(|(one, _), (other, _)| one.cmp(other));
    Ok(found.into_iter().map(|(_, fetched)| fetched).collect())
}

/// The units of the entry lines: those that [`fetch`] would list.
pub(super) fn chosen(
    conn: &mut AnyConnection,
    actor: &Actor,
    person: PersonId,
    now: Now,
) -> Result<Vec<UnitId>> {
    let limit = i64::try_from(MOST_UNITS).unwrap_or(i64::MAX);
    // Where it is tomorrow already, tomorrow's visits are today's; the building's own day is looked at below.
    let until = now
        .0
        .date()
        .checked_add_days(Days::new(1))
        .unwrap_or(now.0.date());
    let mine = visits::planned_until(conn, &actor.scope, Some(person), until, limit)?;
    let nobodys = visits::planned_until(conn, &actor.scope, None, until, limit)?;
    let open = lists::page(conn, &actor.scope, Which::Open, None, None, limit)?;
    let mut found = Chosen::default();
    found.add_visits(conn, actor, now, mine, MOST_UNITS)?;
    let room = MOST_UNITS.saturating_sub(open.len().min(ROOM_FOR_TURNOVERS));
    found.add_visits(conn, actor, now, nobodys, room)?;
    for line in open {
        found.add(line.turnover.unit, MOST_UNITS);
    }
    Ok(found.units)
}

#[derive(Default)]
struct Chosen {
    units: Vec<UnitId>,
    known: HashSet<UnitId>,
}

impl Chosen {
    fn add(&mut self, unit: UnitId, most: usize) {
        if self.units.len() < most && self.known.insert(unit) {
            self.units.push(unit);
        }
    }

    fn add_visits(
        &mut self,
        conn: &mut AnyConnection,
        actor: &Actor,
        now: Now,
        planned: Vec<crate::domain::visit::Visit>,
        most: usize,
    ) -> Result<()> {
        for visit in planned {
            let (building, _) = units::by_key(conn, &actor.scope, visit.unit)?;
            if visit.on_date <= now.date_in(building.facts.time_zone) {
                self.add(visit.unit, most);
            }
        }
        Ok(())
    }
}

/// Notes which units a phone has now.
///
/// # Errors
/// When the database refuses.
pub fn note_fetched(
    db: &Db,
    actor: &Actor,
    now: Now,
    phone: Uuid,
    user_agent: &str,
    units: &[UnitId],
) -> Result<()> {
    let person = super::staff(actor)?;
    let units: BTreeSet<UnitId> = units.iter().copied().collect();
    let units: Vec<UnitId> = units.into_iter().collect();
    db.write(|tx| {
        phones::heard(tx, phone, person, user_agent, now.0)?;
        phones::fetched(tx, phone, person, &units, now.0)
    })
}
