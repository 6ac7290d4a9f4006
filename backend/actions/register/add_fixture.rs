//! Adds a fixture at a place of a unit, with the standard parts of its kind unless told otherwise.

use super::add_room::find_or_add;
use super::standing::{self, StartingParts};
use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::field::FieldError;
use crate::domain::register::person::Actor;
use crate::domain::register::tag::read_label;
use crate::domain::register::{
    Building, Fixture, FixtureFacts, FixtureId, FixtureText, RoomId, Service, Tag, Unit, UnitId,
};
use crate::domain::trade::FixtureKind;
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::NewFixture;
use crate::store::{Db, Tx, due, fixtures, tags, units};

/// A fixture to be added, as typed.
#[derive(Debug, Clone, Default)]
pub struct AddFixture {
    /// Label of its place; empty for the next free one of its kind. A place that stands empty is taken again.
    pub tag: String,
    /// Name of its room, empty for none; added when the unit has none of that name.
    pub room: String,
    /// What it is.
    pub text: FixtureText,
    /// Which parts it begins with.
    pub parts: StartingParts,
}

/// Adds a fixture.
///
/// # Errors
/// A sentence for each field that can't be used, that something stands at the place, or that there is no such unit.
pub fn add(db: &Db, actor: &Actor, now: Now, unit: UnitId, command: &AddFixture) -> Result<FixtureId> {
    rights::manager(actor, "add a fixture")?;
    db.write(|tx| {
        let (building, unit) = units::by_key(tx, &actor.scope, unit)?;
        let facts = read(&building, now, command)?;
        let room = find_or_add(tx, actor, now, &unit, &command.room)?;
        let tag = free_place(tx, actor, now, &unit, (&command.tag, room), facts.kind)?;
        let free_since = fixtures::history_of(tx, tag.id)?
            .into_iter()
            .filter_map(|former| former.stood_until)
            .max();
        let stood_from = standing::counts_from(&building, facts.installed, free_since);
        let new = NewFixture {
            tag: tag.id,
            stood_from,
            replaces: None,
            facts: &facts,
        };
        let id = fixtures::insert(tx, &new)?;
        let fixture = Fixture {
            id,
            tag: tag.id,
            status: Service::InService,
            stood_from,
            stood_until: None,
            replaces: None,
            facts,
        };
        let subject = Subject {
            kind: "fixture",
            id: id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "add_fixture",
            subject,
            &(),
            &snapshot::fixture(&fixture),
        )?;
        if command.parts == StartingParts::Standard {
            let installed = standing::first_parts_installed(&building, fixture.facts.installed);
            let kinds = fixture.facts.kind.standard_parts();
            standing::add_parts(tx, actor, now, &fixture, kinds, installed)?;
        }
        due::refresh_fixtures(tx, &[id])?;
        Ok(id)
    })
}

/// Reads facts and label, and tells what is wrong with both together.
fn read(building: &Building, now: Now, command: &AddFixture) -> Result<FixtureFacts> {
    let today = now.date_in(building.facts.time_zone);
    let mut errors: Vec<FieldError> = Vec::new();
    if !command.tag.trim().is_empty() {
        errors.extend(read_label(&command.tag).err().unwrap_or_default());
    }
    match FixtureFacts::read(&command.text, today) {
        Ok(facts) if errors.is_empty() => Ok(facts),
        facts => {
            errors.extend(facts.err().unwrap_or_default());
            Err(Error::Fields(errors))
        }
    }
}

/// The place of that label when nothing is in service there, made when the unit has none; the next free one without a label.
pub(super) fn free_place(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    unit: &Unit,
    (label, room): (&str, Option<RoomId>),
    kind: FixtureKind,
) -> Result<Tag> {
    let label = if label.trim().is_empty() {
        tags::next_free_label(tx, unit.id, kind)?
    } else {
        read_label(label).map_err(Error::Fields)?
    };
    if let Some(tag) = tags::by_label(tx, unit.id, &label)? {
        if let Some(there) = fixtures::in_service_at(tx, tag.id)? {
            let free = tags::next_free_label(tx, unit.id, kind)?;
            return Err(Error::field(
                "tag",
                format!(
                    "A {} is in service at {label}. Replace or retire that one, or choose another tag, such as {free}.",
                    there.facts.kind.name().to_lowercase()
                ),
            ));
        }
        let mut now_in = tag.clone();
        now_in.room = room.or(tag.room);
        if now_in != tag {
            tags::update(tx, &now_in)?;
        }
        return Ok(now_in);
    }
    let id = tags::insert(tx, unit.id, room, &label)?;
    let tag = Tag {
        id,
        unit: unit.id,
        room,
        label,
    };
    let subject = Subject {
        kind: "tag",
        id: id.0,
    };
    audit::note(tx, actor, now, "add_tag", subject, &(), &snapshot::tag(&tag))?;
    Ok(tag)
}
