//! Gives a turnover up. Its results and deficiencies stay; it makes no record.

use super::{must_be_open, note, occupancy, staff};
use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::domain::register::typed::Typed;
use crate::domain::turnover::{Stage, Turnover};
use crate::error::{Error, Result};
use crate::store::{Db, due, turnovers, units};

/// A turnover to be given up.
#[derive(Debug, Clone)]
pub struct Cancel {
    /// Which.
    pub turnover: TurnoverId,
    /// Why, as typed.
    pub reason: String,
}

/// Cancels a turnover; the unit is occupied or vacant again, as its households say.
///
/// # Errors
/// A sentence when there is no reason, or the turnover is over.
pub fn cancel(db: &Db, actor: &Actor, now: Now, command: &Cancel) -> Result<()> {
    staff(actor)?;
    let mut typed = Typed::new();
    let reason = typed.needed("reason", "Why it is cancelled", &command.reason, 300);
    let reason = typed.finish(reason).map_err(Error::Fields)?;
    db.write(|tx| {
        let before = turnovers::find(tx, &actor.scope, command.turnover)?;
        must_be_open(&before)?;
        let (building, _) = units::by_key(tx, &actor.scope, before.unit)?;
        let mut after = Turnover {
            stage: Stage::Cancelled,
            closed_at: Some(now.0),
            closed_by: actor.person,
            ..before.clone()
        };
        let lines = [before.facts.note.as_str(), "Cancelled: "];
        after.facts.note = format!("{}\n{}{reason}", lines[0], lines[1]).trim().to_owned();
        turnovers::update(tx, &after)?;
        note(tx, actor, now, "cancel_turnover", Some(&before), &after)?;
        let today = now.date_in(building.facts.time_zone);
        occupancy::settle_after(tx, actor, now, &after, today)?;
        due::refresh_tenancy(tx, after.unit)
    })
}
