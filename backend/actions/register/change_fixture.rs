//! Changes what a fixture is and, for managers, where it is called to stand.

use chrono::NaiveDate;

use super::change_tag::{self, TagForm};
use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{Fixture, FixtureFacts, FixtureId, FixtureText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::Placed;
use crate::store::{Db, Tx, due, fixtures};

/// A fixture as typed.
#[derive(Debug, Clone, Default)]
pub struct ChangeFixture {
    /// What it is. A technician changes maker, model, dates and note; the kind stays.
    pub text: FixtureText,
    /// Its place; `None` leaves it.
    pub place: Option<TagForm>,
}

/// Changes a fixture.
///
/// # Errors
/// A sentence for each field that can't be used, that the person may not, or that there is no such fixture.
pub fn change(db: &Db, actor: &Actor, now: Now, id: FixtureId, command: &ChangeFixture) -> Result<()> {
    rights::staff(actor, "change a fixture")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, id)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let facts = FixtureFacts::read(&command.text, today).map_err(Error::Fields)?;
        if actor.role != Role::Manager && facts.kind != placed.fixture.facts.kind {
            rights::manager(actor, "change the kind of a fixture")?;
        }
        let after = dated(tx, &placed, facts)?;
        fixtures::update(tx, &after)?;
        let subject = Subject {
            kind: "fixture",
            id: id.0,
        };
        let (was, is) = (snapshot::fixture(&placed.fixture), snapshot::fixture(&after));
        audit::note(tx, actor, now, "change_fixture", subject, &was, &is)?;
        if let Some(place) = &command.place {
            rights::manager(actor, "rename a tag or put it into another room")?;
            change_tag::apply(tx, actor, now, &placed, place)?;
        }
        due::refresh_fixtures(tx, &[id])
    })
}

/// The fixture with its new facts; another date of installation moves the first day that it counts.
fn dated(tx: &mut Tx<'_>, placed: &Placed, facts: FixtureFacts) -> Result<Fixture> {
    let before = &placed.fixture;
    let mut after = before.clone();
    if facts.installed.date() != before.facts.installed.date() {
        let free_since = former_end(tx, before)?;
        after.stood_from = standing::counts_from(&placed.building, facts.installed, free_since);
    }
    if let Some(until) = after.stood_until.filter(|until| after.stood_from > *until) {
        return Err(Error::field(
            "installed_on",
            format!("It left on {until}, so it was not installed after that. Give an earlier day."),
        ));
    }
    after.facts = facts;
    Ok(after)
}

/// When the one before it at the same place left.
fn former_end(tx: &mut Tx<'_>, fixture: &Fixture) -> Result<Option<NaiveDate>> {
    Ok(fixtures::history_of(tx, fixture.tag)?
        .into_iter()
        .filter(|other| (other.stood_from, other.id) < (fixture.stood_from, fixture.id))
        .filter_map(|other| other.stood_until)
        .max())
}
