//! What a technician's phone asks: the checklists to take along, and that what was done there comes in once, in its order, and is never
//! dropped. What can't be taken as it is, or came late, is kept among the arrivals, where the manager sees it.
//!
//! An answer is a result like any other and goes the way of all results; each op of a batch is a transaction of its own, so that whatever
//! breaks off in between leaves what came before it done once.

mod answer;
mod asked;
mod checklist;
mod deficiency;
mod entry;
mod fetch;
mod ground;
mod photo;
pub mod photos;
mod place;
mod steps;
mod sync;
mod taking;
mod urgent;
mod visit;
pub mod words;

pub use entry::{Access, entry};
pub use fetch::{Fetched, fetch, note_fetched};
pub use sync::{Sending, Synced, sync};
pub use words::Words;

use chrono::TimeDelta;

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::PersonId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::{Db, phones};

/// How long batches and steps are known by their ids, days: longer than a phone may keep what it has not sent.
pub const KNOWN_DAYS: i64 = 120;

/// Managers and technicians, each as the person that they are: the command line has no phone.
fn staff(actor: &Actor) -> Result<PersonId> {
    rights::staff(actor, "send answers from a phone")?;
    actor
        .person
        .ok_or_else(|| Error::Forbidden("Only a person who is signed in has a phone.".to_owned()))
}

/// Forgets batches and steps that no phone will send again.
///
/// # Errors
/// When the database refuses.
pub fn prune(db: &Db, now: Now) -> Result<()> {
    let before = now.0 - TimeDelta::days(KNOWN_DAYS);
    if db.read(|conn| phones::has_before(conn, before))? {
        let gone = db.write(|tx| phones::prune(tx, before))?;
        tracing::debug!(gone, "forgot what phones sent long ago");
    }
    Ok(())
}
