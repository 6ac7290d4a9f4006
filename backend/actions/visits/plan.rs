//! Plans a visit into a unit: a day, a technician, and what it serves. A household is given its notice, or it is said why not.

use std::collections::HashSet;

use chrono::{NaiveDate, TimeDelta};

use super::{due_there, note, staff_only, text};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Building, PersonId, Unit, UnitId, VisitId};
use crate::domain::visit::{FARTHEST_DAYS, Service, Visit, VisitStatus, earliest_entry, needs_notice};
use crate::error::{Error, FieldError, Result};
use crate::language;
use crate::store::lists::deficiencies::staff_of;
use crate::store::{Db, Tx, deficiencies, units, visits};

/// A visit to be planned.
#[derive(Debug, Clone)]
pub struct PlanVisit {
    /// Into which unit.
    pub unit: UnitId,
    /// Local date.
    pub on_date: NaiveDate,
    /// Who goes; none while nobody is named.
    pub technician: Option<PersonId>,
    /// What it serves.
    pub services: Vec<Service>,
    /// Why the household is entered earlier than its notice; empty when it is not.
    pub earlier_because: String,
    /// Free text for whoever goes.
    pub note: String,
}

/// Plans a visit.
///
/// # Errors
/// A sentence for each field that can't be used: a day that has passed or is too far or before the notice ends, a technician who does
/// not work there, nothing to do; or that there is no such unit.
pub fn plan(db: &Db, actor: &Actor, now: Now, command: &PlanVisit) -> Result<VisitId> {
    staff_only(actor)?;
    let said = text("note", "Note", &command.note)?;
    let because = text("earlier_because", "The reason", &command.earlier_because)?;
    db.write(|tx| {
        let (building, unit) = units::by_key(tx, &actor.scope, command.unit)?;
        let mut errors = Vec::new();
        errors.extend(day_refused(&building, &unit, now, command.on_date, &because));
        errors.extend(technician_refused(tx, &building, command.technician)?);
        let services = served(tx, command, &mut errors)?;
        if !errors.is_empty() {
            return Err(Error::Fields(errors));
        }
        let mut visit = Visit {
            id: VisitId(0),
            building: building.id,
            unit: unit.id,
            on_date: command.on_date,
            technician: command.technician,
            status: VisitStatus::Planned,
            reason: String::new(),
            note: with_because(&building, said, &because),
            created_at: now.0,
            closed_at: None,
        };
        visit.id = visits::insert(tx, &visit, actor.person)?;
        visits::add_services(tx, visit.id, &services)?;
        note(tx, actor, now, "plan_visit", None, &visit)?;
        Ok(visit.id)
    })
}

fn day_refused(
    building: &Building,
    unit: &Unit,
    now: Now,
    day: NaiveDate,
    because: &str,
) -> Option<FieldError> {
    let zone = building.facts.time_zone;
    let today = now.date_in(zone);
    let shown = |day| language::day(day, today);
    if day < today {
        let sentence = format!(
            "{} has passed. Choose {} or a later day.",
            shown(day),
            shown(today)
        );
        return Some(FieldError::new("on_date", sentence));
    }
    let farthest = today + TimeDelta::days(FARTHEST_DAYS);
    if day > farthest {
        let sentence = format!(
            "{} is more than {FARTHEST_DAYS} days ahead. Choose {} or an earlier day.",
            shown(day),
            shown(farthest)
        );
        return Some(FieldError::new("on_date", sentence));
    }
    let hours = building.facts.notice_hours;
    let earliest = earliest_entry(now.0, hours, zone);
    if needs_notice(&unit.facts) && day < earliest.date() && because.is_empty() {
        let sentence = format!(
            "{} asks for notice of {hours} h, so enter not before {}, {}. Choose a later day, or say why it is earlier.",
            building.facts.name,
            shown(earliest.date()),
            earliest.format("%H:%M")
        );
        return Some(FieldError::new("on_date", sentence));
    }
    None
}

fn with_because(building: &Building, said: String, because: &str) -> String {
    if because.is_empty() {
        return said;
    }
    let hours = building.facts.notice_hours;
    let earlier = format!("Earlier than the notice of {hours} h: {because}");
    if said.is_empty() {
        earlier
    } else {
        format!("{said}\n{earlier}")
    }
}

fn technician_refused(
    tx: &mut Tx<'_>,
    building: &Building,
    technician: Option<PersonId>,
) -> Result<Option<FieldError>> {
    let Some(person) = technician else {
        return Ok(None);
    };
    let works_there = staff_of(tx, building.id)?.iter().any(|(id, _)| *id == person);
    Ok((!works_there).then(|| {
        let sentence = format!(
            "This technician does not work in {}. Choose one of the list.",
            building.facts.name
        );
        FieldError::new("technician", sentence)
    }))
}

/// What the visit serves, each once: checks that come due in the unit, deficiencies that stand there.
fn served(tx: &mut Tx<'_>, command: &PlanVisit, errors: &mut Vec<FieldError>) -> Result<Vec<Service>> {
    let mut there: HashSet<Service> = due_there(tx, command.unit)?
        .into_iter()
        .map(|(service, _)| service)
        .collect();
    let standing = deficiencies::standing_in(tx, &[command.unit])?;
    there.extend(standing.iter().map(|one| Service::Repair(one.id)));
    let mut chosen = Vec::new();
    for service in &command.services {
        if there.remove(service) {
            chosen.push(*service);
        }
    }
    let mut asked: Vec<Service> = command.services.clone();
    asked.sort_unstable();
    asked.dedup();
    if asked.is_empty() {
        errors.push(FieldError::new(
            "items",
            "Nothing is chosen. Choose at least one check or deficiency.",
        ));
    } else if chosen.len() < asked.len() {
        errors.push(FieldError::new(
            "items",
            "Some of what was chosen does not come due in this unit any more. Look at the list again.",
        ));
    }
    Ok(chosen)
}
