//! What entering takes: who lives there, when they agreed, how much notice. Shown on line and never kept on a phone, so it has an answer of
//! its own.

use super::fetch::chosen;
use crate::actions::visits as of_visits;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Entry, UnitId};
use crate::error::Result;
use crate::store::{AnyConnection, households, units};

/// How to get into a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Access {
    /// Which.
    pub unit: UnitId,
    /// The household that lives there today, as far as an entry needs it; none when nobody does.
    pub household: Option<Entry>,
    /// Hours of notice before an entry.
    pub notice_hours: i64,
    /// What was noted of today's visit; empty when nothing was.
    pub note: String,
}

/// How to get into the units that a phone of this person takes along.
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
        let visit = of_visits::mine(conn, actor, unit.id, today)?;
        all.push(Access {
            unit: unit.id,
            household: living.map(|household| household.entry()),
            notice_hours: building.facts.notice_hours,
            note: visit.map_or_else(String::new, |visit| visit.note),
        });
    }
    Ok(all)
}
