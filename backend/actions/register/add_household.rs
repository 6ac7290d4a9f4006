//! Adds the household that moves into a unit.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{
    Household, HouseholdFacts, HouseholdId, HouseholdText, Occupancy, UnitId, UnitKind,
};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, due, households, units};

/// Adds a household. A vacant unit that it lives in today becomes occupied.
///
/// # Errors
/// A sentence for each field that can't be used, that another household lives there then, or that there is no such unit.
pub fn add(db: &Db, actor: &Actor, now: Now, unit: UnitId, text: &HouseholdText) -> Result<HouseholdId> {
    rights::manager(actor, "add a household")?;
    db.write(|tx| {
        let (building, unit) = units::by_key(tx, &actor.scope, unit)?;
        if unit.facts.kind == UnitKind::CommonArea {
            return Err(Error::refused(
                "Nobody lives in a common area. Choose a unit for the household.",
            ));
        }
        let today = now.date_in(building.facts.time_zone);
        let facts = HouseholdFacts::read(text, today).map_err(Error::Fields)?;
        no_overlap(tx, unit.id, None, &facts)?;
        let id = households::insert(tx, unit.id, &facts)?;
        let household = Household {
            id,
            unit: unit.id,
            moved_out_on: None,
            facts,
        };
        let subject = Subject {
            kind: "household",
            id: id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "add_household",
            subject,
            &(),
            &snapshot::household(&household),
        )?;
        if household.lives_there_on(today) && unit.facts.occupancy == Occupancy::Vacant {
            units::set_occupancy(tx, unit.id, Occupancy::Occupied)?;
        }
        due::refresh_tenancy(tx, unit.id)?;
        Ok(id)
    })
}

/// One household at a time: nobody else may live there on or after the day this one moves in. `itself` is left out.
pub(super) fn no_overlap(
    tx: &mut Tx<'_>,
    unit: UnitId,
    itself: Option<&Household>,
    facts: &HouseholdFacts,
) -> Result<()> {
    let leaves = itself.and_then(|household| household.moved_out_on);
    for other in households::of_unit(tx, unit)? {
        if itself.is_some_and(|household| household.id == other.id) {
            continue;
        }
        let other_is_gone = other.moved_out_on.is_some_and(|out| out <= facts.moved_in_on);
        let gone_before_other = leaves.is_some_and(|out| out <= other.facts.moved_in_on);
        if other_is_gone || gone_before_other {
            continue;
        }
        let sentence = match other.moved_out_on {
            Some(out) => format!(
                "{} lives there until {out}. Give a move-in on or after that day.",
                other.facts.name
            ),
            None => format!(
                "{} lives there since {}. Note their move-out first.",
                other.facts.name, other.facts.moved_in_on
            ),
        };
        return Err(Error::field("moved_in_on", sentence));
    }
    Ok(())
}
