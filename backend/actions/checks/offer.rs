//! Offers a check to new schedules, or withdraws it.

use super::{find, managers_only, subject};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::checks::Offer;
use crate::store::{Db, audit, checks};

/// Offers or withdraws a check. Schedules that have it go on asking for it.
///
/// # Errors
/// When there is no such check or the database refuses.
pub fn offer(db: &Db, actor: &Actor, now: Now, code: &str, to: Offer) -> Result<()> {
    managers_only(actor)?;
    db.write(|tx| {
        let stored = find(tx, code)?;
        let active = to == Offer::Open;
        if stored.active == active {
            return Ok(());
        }
        checks::set_offer(tx, stored.id, to)?;
        audit::note(
            tx,
            actor,
            now,
            "offer_check",
            subject(stored.id),
            &stored.active,
            &active,
        )
    })
}
