//! Retires a fixture: nothing stands at its place any more. The history stays with the place.

use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, Service};
use crate::error::Result;
use crate::store::audit::{self, Subject};
use crate::store::{Db, due, fixtures};

/// A retirement as typed.
#[derive(Debug, Clone, Default)]
pub struct RetireFixture {
    /// First day it no longer stands there; empty for today.
    pub on: String,
    /// Why, free text; added to the fixture's note.
    pub note: String,
}

/// Retires a fixture and its parts. Its open deficiencies stay open until somebody says what became of them.
///
/// # Errors
/// A sentence when the day can't be used, it is not in service, or there is no such fixture.
pub fn retire(db: &Db, actor: &Actor, now: Now, id: FixtureId, command: &RetireFixture) -> Result<()> {
    rights::manager(actor, "retire a fixture")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, id)?;
        standing::in_service(&placed)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let on = standing::day_of_change(&command.on, placed.fixture.stood_from, today)?;
        let note = command.note.trim();
        let note = if note.is_empty() {
            String::new()
        } else {
            format!("Retired: {note}")
        };
        let after = standing::end_fixture(tx, &placed.fixture, Service::Retired, on, &note)?;
        let subject = Subject {
            kind: "fixture",
            id: id.0,
        };
        let (was, is) = (snapshot::fixture(&placed.fixture), snapshot::fixture(&after));
        audit::note(tx, actor, now, "retire_fixture", subject, &was, &is)?;
        due::refresh_fixtures(tx, &[id])
    })
}
