//! "I am in this unit now": goes on with today's visit of whoever says so, or makes one, with all that is in its window there.

use std::collections::HashSet;

use chrono::NaiveDate;

use super::{due_there, note, staff_only};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{UnitId, VisitId};
use crate::domain::visit::{Service, Visit, VisitStatus};
use crate::error::{Error, Result};
use crate::language;
use crate::store::{AnyConnection, Db, deficiencies, units, visits};

/// What came of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Begun {
    /// The visit that answers are recorded on.
    pub visit: VisitId,
    /// How much it serves now.
    pub services: usize,
}

/// Begins or goes on with today's visit. No notice is asked for: whoever says this is inside already.
///
/// # Errors
/// When there is no such unit, or there is nothing to do in it.
pub fn start(db: &Db, actor: &Actor, now: Now, unit: UnitId) -> Result<Begun> {
    staff_only(actor)?;
    db.write(|tx| {
        let (building, unit) = units::by_key(tx, &actor.scope, unit)?;
        let today = now.date_in(building.facts.time_zone);
        let open = open_there(tx, actor, unit.id, today)?;
        let before = mine(tx, actor, unit.id, today)?;
        if open.is_empty() && before.is_none() {
            return Err(Error::refused(format!(
                "No check can be done in unit {} today and nothing is to be repaired. Record a single check from its fixture's page.",
                unit.facts.label
            )));
        }
        let visit = match &before {
            Some(planned) => {
                let visit = Visit {
                    on_date: today,
                    technician: planned.technician.or(actor.person),
                    ..planned.clone()
                };
                visits::update(tx, &visit)?;
                visit
            }
            None => {
                let mut visit = Visit {
                    id: VisitId(0),
                    building: building.id,
                    unit: unit.id,
                    on_date: today,
                    technician: actor.person,
                    status: VisitStatus::Planned,
                    reason: String::new(),
                    note: String::new(),
                    created_at: now.0,
                    closed_at: None,
                };
                visit.id = visits::insert(tx, &visit, actor.person)?;
                visit
            }
        };
        let served: HashSet<Service> = visits::services(tx, visit.id)?.into_iter().collect();
        let new: Vec<Service> = open.into_iter().filter(|service| !served.contains(service)).collect();
        visits::add_services(tx, visit.id, &new)?;
        if before.as_ref() != Some(&visit) || !new.is_empty() {
            note(tx, actor, now, "start_visit", before.as_ref(), &visit)?;
        }
        Ok(Begun {
            visit: visit.id,
            services: served.len() + new.len(),
        })
    })
}

/// The planned visit that whoever is there goes on with: theirs or nobody's, planned for today or left over from a day before; of
/// several the latest.
///
/// # Errors
/// When the database does not answer.
pub fn mine(
    conn: &mut AnyConnection,
    actor: &Actor,
    unit: UnitId,
    today: NaiveDate,
) -> Result<Option<Visit>> {
    let planned = visits::planned_in(conn, unit)?;
    Ok(planned
        .into_iter()
        .filter(|visit| visit.on_date <= today)
        .rfind(|visit| visit.technician.is_none() || visit.technician == actor.person))
}

/// What can be done in a unit today: checks in their window or over it, and deficiencies that nobody else sees to.
///
/// # Errors
/// When the database does not answer.
pub fn open_there(
    conn: &mut AnyConnection,
    actor: &Actor,
    unit: UnitId,
    today: NaiveDate,
) -> Result<Vec<Service>> {
    let mut open: Vec<Service> = due_there(conn, unit)?
        .into_iter()
        .filter(|(_, row)| row.window.opens() <= today)
        .map(|(service, _)| service)
        .collect();
    let standing = deficiencies::standing_in(conn, &[unit])?;
    let for_me = standing.iter().filter(|one| {
        let is_mine = one.assignee.is_some() && one.assignee == actor.person;
        is_mine || (one.assignee.is_none() && one.vendor.is_empty())
    });
    open.extend(for_me.map(|one| Service::Repair(one.id)));
    Ok(open)
}

impl Begun {
    /// What it serves in words: "9 things to do".
    #[must_use]
    pub fn words(self) -> String {
        language::count(self.services, "thing to do", "things to do")
    }
}
