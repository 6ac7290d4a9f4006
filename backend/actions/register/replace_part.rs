//! Replaces a part by a new one of the same kind.

use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Installed, PartFacts, PartId, Service};
use crate::error::Result;
use crate::store::audit::{self, Subject};
use crate::store::{Db, due, parts};

/// Replaces a part on `on` (as typed; empty for today), and answers with the new one, which was installed that day.
///
/// # Errors
/// A sentence when the day can't be used, the part is not in service, or there is no such part.
pub fn replace(db: &Db, actor: &Actor, now: Now, id: PartId, on: &str) -> Result<PartId> {
    rights::staff(actor, "replace a part")?;
    db.write(|tx| {
        let (placed, old) = parts::by_key(tx, &actor.scope, id)?;
        standing::in_service(&placed)?;
        super::retire_part::still_there(&placed, &old)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let on = standing::day_of_change(on, old.stood_from, today)?;
        let ended = standing::end_part(tx, old, Service::Replaced, on)?;
        let facts = PartFacts {
            kind: old.facts.kind,
            installed: Installed::On(on),
        };
        let new = standing::add_part(tx, actor, now, &placed.fixture, facts, on)?;
        let subject = Subject {
            kind: "part",
            id: id.0,
        };
        let (was, is) = (snapshot::part(&old), snapshot::part(&ended));
        audit::note(tx, actor, now, "replace_part", subject, &was, &is)?;
        due::refresh_fixtures(tx, &[old.fixture])?;
        Ok(new.id)
    })
}
