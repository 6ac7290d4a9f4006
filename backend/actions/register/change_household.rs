//! Changes what is known of a household.

use super::add_household::no_overlap;
use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Household, HouseholdFacts, HouseholdId, HouseholdText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, due, households};

/// Changes a household.
///
/// # Errors
/// A sentence for each field that can't be used, that another household lives there then, or that there is no such household.
pub fn change(db: &Db, actor: &Actor, now: Now, id: HouseholdId, text: &HouseholdText) -> Result<()> {
    rights::manager(actor, "change a household")?;
    db.write(|tx| {
        let (building, unit, before) = households::by_key(tx, &actor.scope, id)?;
        let today = now.date_in(building.facts.time_zone);
        let facts = HouseholdFacts::read(text, today).map_err(Error::Fields)?;
        if before.moved_out_on.is_some_and(|out| out < facts.moved_in_on) {
            return Err(Error::field(
                "moved_in_on",
                "The move-in lies after the move-out. Give a day on or before it.",
            ));
        }
        no_overlap(tx, unit.id, Some(&before), &facts)?;
        let after = Household {
            facts,
            ..before.clone()
        };
        households::update(tx, &after)?;
        let subject = Subject {
            kind: "household",
            id: id.0,
        };
        let (was, is) = (snapshot::household(&before), snapshot::household(&after));
        audit::note(tx, actor, now, "change_household", subject, &was, &is)?;
        due::refresh_tenancy(tx, unit.id)
    })
}
