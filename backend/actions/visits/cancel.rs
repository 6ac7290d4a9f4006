//! Cancels a visit that nobody makes. What it would have served stays due.

use super::{note, planned, staff_only, text};
use crate::clock::Now;
use crate::domain::register::VisitId;
use crate::domain::register::person::Actor;
use crate::domain::visit::{Visit, VisitStatus};
use crate::error::Result;
use crate::store::{Db, visits};

/// Cancels a visit; the reason may be empty.
///
/// # Errors
/// When there is no such visit, it is closed already, or the reason is too long.
pub fn cancel(db: &Db, actor: &Actor, now: Now, id: VisitId, reason: &str) -> Result<()> {
    staff_only(actor)?;
    let reason = text("cancel_reason", "The reason", reason)?;
    db.write(|tx| {
        let before = planned(tx, actor, id)?;
        let after = Visit {
            status: VisitStatus::Cancelled,
            reason,
            closed_at: Some(now.0),
            ..before.clone()
        };
        visits::update(tx, &after)?;
        note(tx, actor, now, "cancel_visit", Some(&before), &after)
    })
}
