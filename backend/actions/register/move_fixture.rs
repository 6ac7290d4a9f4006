//! Moves a fixture to another place. Its old place stands empty and keeps its history; at the new one it begins anew with the
//! same maker, model and dates.

use super::add_fixture::free_place;
use super::add_room::find_or_add;
use super::{rights, snapshot, standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Building, Fixture, FixtureId, Installed, PartFacts, Service, Unit};
use crate::domain::result::EventKind;
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::deficiencies::Event;
use crate::store::fixtures::{NewFixture, Placed};
use crate::store::{Db, Tx, buildings, deficiencies, due, fixtures, parts, units};

/// A move as typed.
#[derive(Debug, Clone, Default)]
pub struct MoveFixture {
    /// Code of the building it goes to; empty for the one where it stands.
    pub building: String,
    /// Label of the unit it goes to; empty for the one where it stands.
    pub unit: String,
    /// Label of the new place; empty for the next free one of its kind.
    pub tag: String,
    /// Name of the room, empty for none; added when the unit has none of that name.
    pub room: String,
    /// First day it stands there; empty for today.
    pub on: String,
}

/// Moves a fixture, and answers with the one that begins at the new place.
///
/// # Errors
/// A sentence when a field can't be used, something stands at the new place, it is not in service, or there is no such fixture or
/// unit.
pub fn relocate(db: &Db, actor: &Actor, now: Now, id: FixtureId, command: &MoveFixture) -> Result<FixtureId> {
    rights::manager(actor, "move a fixture")?;
    db.write(|tx| {
        let placed = fixtures::by_key(tx, &actor.scope, id)?;
        standing::in_service(&placed)?;
        let (to_building, to_unit) = target(tx, actor, &placed, command)?;
        let today = now.date_in(placed.building.facts.time_zone);
        let on = standing::day_of_change(&command.on, placed.fixture.stood_from, today)?;
        let kind = placed.fixture.facts.kind;
        let room = find_or_add(tx, actor, now, &to_unit, &command.room)?;
        let tag = free_place(tx, actor, now, &to_unit, (&command.tag, room), kind)?;
        let (from, to) = (
            place_words(
                &placed.building.facts.code,
                &placed.unit.facts.label,
                &placed.tag.label,
            ),
            place_words(&to_building.facts.code, &to_unit.facts.label, &tag.label),
        );
        let carried = parts::of_fixture(tx, id)?;
        let old = standing::end_fixture(
            tx,
            &placed.fixture,
            Service::Retired,
            on,
            &format!("Moved to {to}."),
        )?;
        let mut facts = placed.fixture.facts.clone();
        facts.note = [facts.note.as_str(), &format!("Moved here from {from}.")]
            .into_iter()
            .filter(|line| !line.is_empty())
            .collect::<Vec<_>>()
            .join("\n");
        let free_since = fixtures::history_of(tx, tag.id)?
            .into_iter()
            .filter_map(|former| former.stood_until)
            .max();
        let new = NewFixture {
            tag: tag.id,
            stood_from: standing::counts_from(&to_building, Installed::On(on), free_since),
            replaces: None,
            facts: &facts,
        };
        let new_id = fixtures::insert(tx, &new)?;
        let fixture = Fixture {
            id: new_id,
            tag: tag.id,
            status: Service::InService,
            stood_from: new.stood_from,
            stood_until: None,
            replaces: None,
            facts,
        };
        for part in carried
            .into_iter()
            .filter(|part| part.status == Service::InService)
        {
            let facts = along(part.facts, Installed::On(on));
            standing::add_part(tx, actor, now, &fixture, facts, fixture.stood_from)?;
        }
        bring_deficiencies(tx, actor, now, &placed, (&to_building, &to_unit, &fixture))?;
        note(tx, actor, now, &placed, (&old, &fixture))?;
        due::refresh_fixtures(tx, &[id, new_id])?;
        Ok(new_id)
    })
}

/// What is wrong with the fixture goes along with it, and is re-checked where it stands now.
fn bring_deficiencies(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    placed: &Placed,
    (building, unit, fixture): (&Building, &Unit, &Fixture),
) -> Result<()> {
    let words = format!(
        "Moved with the fixture from {}.",
        place_words(
            &placed.building.facts.code,
            &placed.unit.facts.label,
            &placed.tag.label
        )
    );
    for mut one in deficiencies::at_tags(tx, &[placed.tag.id])? {
        if !one.stands() || one.fixture.is_some_and(|found| found != placed.fixture.id) {
            continue;
        }
        one.building = building.id;
        one.unit = unit.id;
        one.tag = Some(fixture.tag);
        one.fixture = Some(fixture.id);
        deficiencies::update(tx, &one)?;
        let event = Event {
            deficiency: one.id,
            at: now.0,
            person: actor.person,
            kind: EventKind::Moved,
            text: words.clone(),
            result: None,
        };
        deficiencies::append_event(tx, &event)?;
    }
    Ok(())
}

/// The unit that it goes to.
fn target(
    tx: &mut Tx<'_>,
    actor: &Actor,
    placed: &Placed,
    command: &MoveFixture,
) -> Result<(Building, Unit)> {
    let (code, label) = (command.building.trim(), command.unit.trim());
    let building = if code.is_empty() {
        placed.building.clone()
    } else {
        buildings::by_code(tx, &actor.scope, code).map_err(|error| match error {
            Error::NotFound(_) => Error::field(
                "building",
                format!("There is no building {code} here. Give the code of one that is."),
            ),
            other => other,
        })?
    };
    if label.is_empty() && building.id == placed.building.id {
        return Ok((building, placed.unit.clone()));
    }
    let unit = units::by_label(tx, building.id, label)?.ok_or_else(|| {
        Error::field(
            "unit",
            format!(
                "{} has no unit “{label}”. Give the label of one that is there.",
                building.facts.code
            ),
        )
    })?;
    Ok((building, unit))
}

/// Parts come along with their dates; a wax seal is spent when the bowl is lifted, so that the new place has a new one.
///
/// # Source
/// Common practice, no source.
fn along(part: PartFacts, on: Installed) -> PartFacts {
    match part.kind {
        PartKind::WaxSeal => PartFacts {
            installed: on,
            ..part
        },
        _ => part,
    }
}

fn place_words(building: &str, unit: &str, tag: &str) -> String {
    format!("{building}, unit {unit}, {tag}")
}

fn note(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    placed: &Placed,
    (old, new): (&Fixture, &Fixture),
) -> Result<()> {
    let ended = Subject {
        kind: "fixture",
        id: old.id.0,
    };
    let (was, is) = (snapshot::fixture(&placed.fixture), snapshot::fixture(old));
    audit::note(tx, actor, now, "move_fixture", ended, &was, &is)?;
    let begun = Subject {
        kind: "fixture",
        id: new.id.0,
    };
    audit::note(
        tx,
        actor,
        now,
        "move_fixture",
        begun,
        &(),
        &snapshot::fixture(new),
    )
}
