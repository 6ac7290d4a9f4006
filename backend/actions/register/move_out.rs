//! Notes the day a household moves out.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::typed::{Typed, a_year_ahead};
use crate::domain::register::{Household, HouseholdId, Occupancy};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, due, households, units};

/// Notes a move-out (`moved_out_on` as typed; empty for today). From that day on the household no longer lives there; an occupied
/// unit that nobody lives in today becomes vacant.
///
/// # Errors
/// A sentence when the day can't be used, or there is no such household.
pub fn leave(db: &Db, actor: &Actor, now: Now, id: HouseholdId, moved_out_on: &str) -> Result<()> {
    rights::manager(actor, "note a move-out")?;
    db.write(|tx| within(tx, actor, now, id, moved_out_on))
}

/// The same within a transaction that does more, for whoever may do that.
///
/// # Errors
/// As [`leave`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    id: HouseholdId,
    moved_out_on: &str,
) -> Result<()> {
    let (building, unit, before) = households::by_key(tx, &actor.scope, id)?;
    let today = now.date_in(building.facts.time_zone);
    let mut typed = Typed::new();
    let out = typed
        .date(
            "moved_out_on",
            "Move-out",
            moved_out_on,
            a_year_ahead(today),
            "that is more than a year ahead",
        )
        .unwrap_or(today);
    if out < before.facts.moved_in_on {
        typed.refuse(
            "moved_out_on",
            format!(
                "Move-out {out} lies before the move-in on {}. Give a day on or after it.",
                before.facts.moved_in_on
            ),
        );
    }
    let out = typed.finish(out).map_err(Error::Fields)?;
    let after = Household {
        moved_out_on: Some(out),
        ..before.clone()
    };
    let others = households::of_unit(tx, unit.id)?;
    let next = others
        .iter()
        .filter(|other| other.id != id && other.facts.moved_in_on >= before.facts.moved_in_on)
        .map(|other| other.facts.moved_in_on)
        .min();
    if let Some(next) = next.filter(|next| out > *next) {
        return Err(Error::field(
            "moved_out_on",
            format!("The next household moves in on {next}. Give a move-out up to that day."),
        ));
    }
    households::update(tx, &after)?;
    let subject = Subject {
        kind: "household",
        id: id.0,
    };
    let (was, is) = (snapshot::household(&before), snapshot::household(&after));
    audit::note(tx, actor, now, "move_out", subject, &was, &is)?;
    let somebody = others
        .iter()
        .any(|other| other.id != id && other.lives_there_on(today));
    let is_empty = out <= today && !somebody;
    if is_empty && unit.facts.occupancy == Occupancy::Occupied {
        units::set_occupancy(tx, unit.id, Occupancy::Vacant)?;
    }
    due::refresh_tenancy(tx, unit.id)
}
