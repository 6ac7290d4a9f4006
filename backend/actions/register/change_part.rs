//! Corrects the age of a part. A part of another kind is another part: add and retire.

use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Part, PartFacts, PartId, PartText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, due, parts};

/// Corrects when a part was installed; the kind of `text` is not looked at.
///
/// # Errors
/// A sentence for each field that can't be used, or that there is no such part.
pub fn change(db: &Db, actor: &Actor, now: Now, id: PartId, text: &PartText) -> Result<()> {
    rights::staff(actor, "change a part")?;
    db.write(|tx| {
        let (placed, before) = parts::by_key(tx, &actor.scope, id)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let text = PartText {
            kind: before.facts.kind.to_string(),
            ..text.clone()
        };
        let facts = PartFacts::read(&text, today).map_err(Error::Fields)?;
        let free_since = parts::of_fixture(tx, before.fixture)?
            .into_iter()
            .filter(|other| other.facts.kind == facts.kind)
            .filter(|other| (other.stood_from, other.id) < (before.stood_from, before.id))
            .filter_map(|other| other.stood_until)
            .max();
        let stood_from = standing::counts_from(&placed.building, facts.installed, free_since)
            .max(placed.fixture.stood_from);
        if before.stood_until.is_some_and(|until| stood_from > until) {
            return Err(Error::field(
                "installed_on",
                "It was installed after it left. Give an earlier day.",
            ));
        }
        let after = Part {
            facts,
            stood_from,
            ..before
        };
        parts::update(tx, &after)?;
        let subject = Subject {
            kind: "part",
            id: id.0,
        };
        let (was, is) = (snapshot::part(&before), snapshot::part(&after));
        audit::note(tx, actor, now, "change_part", subject, &was, &is)?;
        due::refresh_fixtures(tx, &[before.fixture])
    })
}
