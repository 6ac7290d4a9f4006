//! Retires a part that its fixture no longer has.

use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Part, PartId, Service};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::Placed;
use crate::store::{Db, due, parts};

/// Retires a part on `on` (as typed; empty for today).
///
/// # Errors
/// A sentence when the day can't be used, the part is not in service, or there is no such part.
pub fn retire(db: &Db, actor: &Actor, now: Now, id: PartId, on: &str) -> Result<()> {
    rights::staff(actor, "retire a part")?;
    db.write(|tx| {
        let (placed, before) = parts::by_key(tx, &actor.scope, id)?;
        still_there(&placed, &before)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let on = standing::day_of_change(on, before.stood_from, today)?;
        let after = standing::end_part(tx, before, Service::Retired, on)?;
        let subject = Subject {
            kind: "part",
            id: id.0,
        };
        let (was, is) = (snapshot::part(&before), snapshot::part(&after));
        audit::note(tx, actor, now, "retire_part", subject, &was, &is)?;
        due::refresh_fixtures(tx, &[before.fixture])
    })
}

/// Refuses a part that is no longer in service.
pub(super) fn still_there(placed: &Placed, part: &Part) -> Result<()> {
    if part.status == Service::InService {
        return Ok(());
    }
    Err(Error::Conflict(format!(
        "This {} of {} is {} already. Go to the fixture's page for the one that is there now.",
        part.facts.kind.name().to_lowercase(),
        placed.tag.label,
        part.status.name().to_lowercase()
    )))
}
