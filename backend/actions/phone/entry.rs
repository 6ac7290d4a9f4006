//! What entering takes: who lives there, when they agreed, how much notice. Shown on line and never kept on a phone, so it has an answer of
//! its own.

use super::fetch::chosen;
use crate::actions::visits as of_visits;
use crate::clock::Now;
use crate::domain::register::UnitId;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::{AnyConnection, households, units};

/// The lines of a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Access {
    /// Which.
    pub unit: UnitId,
    /// What to know, a line each; none when nobody lives there and nothing was noted.
    pub lines: Vec<String>,
}

/// The lines of the units that a phone of this person takes along.
///
/// # Errors
/// [`crate::error::Error::Forbidden`] for owners; when the database does not answer.
pub fn entry(conn: &mut AnyConnection, actor: &Actor, now: Now) -> Result<Vec<Access>> {
    let person = super::staff(actor)?;
    let mut all = Vec::new();
    for unit in chosen(conn, actor, person, now)? {
        let (building, unit) = units::by_key(conn, &actor.scope, unit)?;
        let today = now.date_in(building.facts.time_zone);
        let living = households::of_unit(conn, unit.id)?;
        let living = living
            .into_iter()
            .find(|household| household.lives_there_on(today));
        let mut lines = Vec::new();
        if let Some(household) = living {
            let entry = household.entry();
            let said = [
                ("Household", entry.name),
                ("Language", entry.language),
                ("Agreed hours", entry.agreed_hours),
                ("No entry", entry.no_entry_days),
                ("Entry notice", format!("{} hours", building.facts.notice_hours)),
            ];
            let said = said.into_iter().filter(|(_, text)| !text.is_empty());
            lines.extend(said.map(|(label, text)| format!("{label}: {text}")));
        }
        let visit = of_visits::mine(conn, actor, unit.id, today)?;
        if let Some(visit) = visit.filter(|visit| !visit.note.is_empty()) {
            lines.push(format!("Note of the visit: {}", visit.note));
        }
        all.push(Access { unit: unit.id, lines });
    }
    Ok(all)
}
