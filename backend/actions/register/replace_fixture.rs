//! Replaces a fixture: the new one takes the place and its history. What was deficient on the old one stays open until a check of
//! the new one passed.

use super::standing::{self, StartingParts};
use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Fixture, FixtureFacts, FixtureId, FixtureText, Installed, Service};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::NewFixture;
use crate::store::{Db, due, fixtures};

/// A replacement as typed.
#[derive(Debug, Clone, Default)]
pub struct ReplaceFixture {
    /// The day the new one took the place; empty for today.
    pub on: String,
    /// The new one. An empty kind is that of the old one; an empty date of installation is the day of the replacement.
    pub text: FixtureText,
    /// Which parts the new one begins with, installed with it.
    pub parts: StartingParts,
}

/// Replaces a fixture, and answers with the new one.
///
/// # Errors
/// A sentence for each field that can't be used, that it is not in service, or that there is no such fixture.
pub fn replace(
    db: &Db,
    actor: &Actor,
    now: Now,
    id: FixtureId,
    command: &ReplaceFixture,
) -> Result<FixtureId> {
    rights::manager(actor, "replace a fixture")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, id)?;
        standing::in_service(&placed)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let on = standing::day_of_change(&command.on, placed.fixture.stood_from, today)?;
        let mut text = command.text.clone();
        if text.kind.trim().is_empty() {
            placed.fixture.facts.kind.to_string().clone_into(&mut text.kind);
        }
        let mut facts = FixtureFacts::read(&text, today).map_err(Error::Fields)?;
        if facts.installed == Installed::Unknown {
            facts.installed = Installed::On(on);
        }
        let old = standing::end_fixture(tx, &placed.fixture, Service::Replaced, on, "")?;
        let new = NewFixture {
            tag: placed.tag.id,
            stood_from: on,
            replaces: Some(id),
            facts: &facts,
        };
        let new_id = fixtures::insert(tx, &new)?;
        let fixture = Fixture {
            id: new_id,
            tag: placed.tag.id,
            status: Service::InService,
            stood_from: on,
            stood_until: None,
            replaces: Some(id),
            facts,
        };
        if command.parts == StartingParts::Standard {
            let kinds = fixture.facts.kind.standard_parts();
            standing::add_parts(tx, actor, now, &fixture, kinds, Installed::On(on))?;
        }
        let subject = Subject {
            kind: "fixture",
            id: new_id.0,
        };
        let (was, is) = (snapshot::fixture(&old), snapshot::fixture(&fixture));
        audit::note(tx, actor, now, "replace_fixture", subject, &was, &is)?;
        due::refresh_fixtures(tx, &[id, new_id])?;
        Ok(new_id)
    })
}
