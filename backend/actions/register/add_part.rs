//! Adds a part to a fixture.

use super::{rights, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, PartFacts, PartId, PartText, Service};
use crate::error::{Error, Result};
use crate::store::{Db, due, fixtures, parts};

/// Adds a part.
///
/// # Errors
/// A sentence for each field that can't be used, that the fixture has one of the kind or is not in service, or that there is none.
pub fn add(db: &Db, actor: &Actor, now: Now, fixture: FixtureId, text: &PartText) -> Result<PartId> {
    rights::staff(actor, "add a part")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, fixture)?;
        standing::in_service(&placed)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let facts = PartFacts::read(text, today).map_err(Error::Fields)?;
        if parts::in_service_on(tx, fixture, facts.kind)?.is_some() {
            return Err(Error::field(
                "kind",
                format!(
                    "{} has a {} in service already. Replace that one.",
                    placed.tag.label,
                    facts.kind.name().to_lowercase()
                ),
            ));
        }
        let free_since = parts::of_fixture(tx, fixture)?
            .into_iter()
            .filter(|part| part.facts.kind == facts.kind && part.status != Service::InService)
            .filter_map(|part| part.stood_until)
            .max();
        let stood_from = standing::counts_from(&placed.building, facts.installed, free_since)
            .max(placed.fixture.stood_from);
        let part = standing::add_part(tx, actor, now, &placed.fixture, facts, stood_from)?;
        due::refresh_fixtures(tx, &[fixture])?;
        Ok(part.id)
    })
}
