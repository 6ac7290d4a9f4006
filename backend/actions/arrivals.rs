//! Notes that a manager saw what a phone sent too late, or what could not be taken. What was sent stays as it is.

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::Db;
use crate::store::audit::{self, Subject};
use crate::store::lists::arrivals;

/// Notes it; one that was noted before stays as it is.
///
/// # Errors
/// When there is none within the person's scope, or for anybody but a manager.
pub fn note(db: &Db, actor: &Actor, now: Now, arrival: i64) -> Result<()> {
    rights::manager(actor, "note what arrived late")?;
    db.write(|tx| {
        if arrivals::see(tx, &actor.scope, arrival, now.0, actor.person)? {
            let subject = Subject {
                kind: "arrival",
                id: arrival,
            };
            audit::note(
                tx,
                actor,
                now,
                "note_arrival",
                subject,
                &(),
                &serde_json::json!({}),
            )?;
        }
        Ok(())
    })
}
