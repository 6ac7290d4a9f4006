//! Closes a visit as done. What was not recorded on it stays due.

use super::{note, planned, staff_only};
use crate::clock::Now;
use crate::domain::register::VisitId;
use crate::domain::register::person::Actor;
use crate::domain::visit::{Visit, VisitStatus};
use crate::error::Result;
use crate::store::{Db, Tx, units, visits};

/// Closes a visit; one that was planned for a later day was made today.
///
/// # Errors
/// When there is no such visit or it is closed already.
pub fn done(db: &Db, actor: &Actor, now: Now, id: VisitId) -> Result<()> {
    db.write(|tx| within(tx, actor, now, id))
}

/// The same within a transaction that does more.
///
/// # Errors
/// As [`done`].
pub(crate) fn within(tx: &mut Tx<'_>, actor: &Actor, now: Now, id: VisitId) -> Result<()> {
    staff_only(actor)?;
    let before = planned(tx, actor, id)?;
    let (building, _) = units::by_key(tx, &actor.scope, before.unit)?;
    let today = now.date_in(building.facts.time_zone);
    let after = Visit {
        on_date: before.on_date.min(today),
        technician: before.technician.or(actor.person),
        status: VisitStatus::Done,
        closed_at: Some(now.0),
        ..before.clone()
    };
    visits::update(tx, &after)?;
    note(tx, actor, now, "close_visit", Some(&before), &after)
}
