//! `anglestop register fixture`.

use clap::{Args, Subcommand};

use super::place::{AtTag, AtUnit};
use super::{Desk, take};
use crate::actions::register::add_fixture::{self, AddFixture};
use crate::actions::register::change_fixture::{self, ChangeFixture};
use crate::actions::register::change_tag::TagForm;
use crate::actions::register::move_fixture::{self, MoveFixture};
use crate::actions::register::replace_fixture::{self, ReplaceFixture};
use crate::actions::register::retire_fixture::{self, RetireFixture};
use crate::actions::register::standing::StartingParts;
use crate::domain::register::{FixtureId, FixtureText};
use crate::error::Result;
use crate::store::fixtures;

/// What is done with fixtures.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a fixture with the standard parts of its kind
    Add {
        #[command(flatten)]
        at: AtUnit,
        /// Label of its place, such as WC-1; the next free one of its kind when not given
        #[arg(long, value_name = "LABEL", default_value = "")]
        tag: String,
        /// Name of its room; added when the unit has none of that name
        #[arg(long, default_value = "")]
        room: String,
        #[command(flatten)]
        facts: Facts,
        #[command(flatten)]
        parts: Parts,
    },
    /// Change what is given of the fixture at a place, or the place itself, and leave the rest
    Change {
        #[command(flatten)]
        at: AtTag,
        #[command(flatten)]
        facts: Facts,
        /// Another label for the place
        #[arg(long, value_name = "LABEL")]
        new_tag: Option<String>,
        /// Another room of the unit
        #[arg(long)]
        room: Option<String>,
    },
    /// Move the fixture at a place to another place; the history stays at the old one
    Move {
        #[command(flatten)]
        at: AtTag,
        /// Code of the building it goes to; the same when not given
        #[arg(long, value_name = "CODE", default_value = "")]
        to_building: String,
        /// Label of the unit it goes to; the same when not given
        #[arg(long, value_name = "LABEL", default_value = "")]
        to_unit: String,
        /// Label of the new place; the next free one of its kind when not given
        #[arg(long, value_name = "LABEL", default_value = "")]
        to_tag: String,
        /// Name of the room it goes to
        #[arg(long, value_name = "ROOM", default_value = "")]
        to_room: String,
        /// First day it stands there; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
    },
    /// Retire the fixture at a place; nothing stands there any more
    Retire {
        #[command(flatten)]
        at: AtTag,
        /// First day it no longer stands there; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
        /// Why
        #[arg(long, default_value = "")]
        note: String,
    },
    /// Replace the fixture at a place; the new one takes the place and its history
    Replace {
        #[command(flatten)]
        at: AtTag,
        /// The day the new one took the place; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
        #[command(flatten)]
        facts: Facts,
        #[command(flatten)]
        parts: Parts,
    },
}

/// What a fixture is.
#[derive(Debug, Args)]
pub struct Facts {
    /// Kind, such as water_closet, lavatory or water_heater; a wrong one is answered with all of them
    #[arg(long)]
    kind: Option<String>,
    /// Maker, free text
    #[arg(long)]
    maker: Option<String>,
    /// Model, free text
    #[arg(long)]
    model: Option<String>,
    /// Day it was installed; a year or a month alone is an estimate
    #[arg(long, value_name = "DATE")]
    installed_on: Option<String>,
    /// That day is an estimate
    #[arg(long)]
    estimated: bool,
    /// Note, free text
    #[arg(long)]
    note: Option<String>,
}

/// Which parts a new fixture begins with.
#[derive(Debug, Args)]
pub struct Parts {
    /// Begin without the standard parts of the kind
    #[arg(long)]
    no_parts: bool,
}

impl Facts {
    fn over(&self, mut text: FixtureText) -> FixtureText {
        take(&mut text.kind, self.kind.as_ref());
        take(&mut text.maker, self.maker.as_ref());
        take(&mut text.model, self.model.as_ref());
        take(&mut text.note, self.note.as_ref());
        if let Some(day) = &self.installed_on {
            text.installed_on.clone_from(day);
            text.installed_estimated.clear();
        }
        if self.estimated {
            "yes".clone_into(&mut text.installed_estimated);
        }
        text
    }
}

impl Parts {
    fn chosen(&self) -> StartingParts {
        if self.no_parts {
            StartingParts::None
        } else {
            StartingParts::Standard
        }
    }
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    let Desk { db, actor, now } = desk;
    let (id, said) = match what {
        What::Add {
            at,
            tag,
            room,
            facts,
            parts,
        } => {
            let (_, unit) = at.find(desk)?;
            let command = AddFixture {
                tag: tag.clone(),
                room: room.clone(),
                text: facts.over(FixtureText::default()),
                parts: parts.chosen(),
            };
            let id = add_fixture::add(db, actor, *now, unit.id, &command)?;
            (id, "Fixture added.")
        }
        What::Change {
            at,
            facts,
            new_tag,
            room,
        } => {
            let id = change(desk, at, facts, (new_tag.as_ref(), room.as_ref()))?;
            (id, "Fixture changed.")
        }
        What::Move {
            at,
            to_building,
            to_unit,
            to_tag,
            to_room,
            on,
        } => {
            let command = MoveFixture {
                building: to_building.clone(),
                unit: to_unit.clone(),
                tag: to_tag.clone(),
                room: to_room.clone(),
                on: on.clone(),
            };
            let id = move_fixture::relocate(db, actor, *now, at.find(desk)?.id, &command)?;
            (id, "Fixture moved.")
        }
        What::Retire { at, on, note } => {
            let command = RetireFixture {
                on: on.clone(),
                note: note.clone(),
            };
            let id = at.find(desk)?.id;
            retire_fixture::retire(db, actor, *now, id, &command)?;
            (id, "Fixture retired.")
        }
        What::Replace { at, on, facts, parts } => {
            let command = ReplaceFixture {
                on: on.clone(),
                text: facts.over(FixtureText::default()),
                parts: parts.chosen(),
            };
            let id = replace_fixture::replace(db, actor, *now, at.find(desk)?.id, &command)?;
            (
                id,
                "Fixture replaced. What was deficient closes once a check of the new one passed.",
            )
        }
    };
    tell(desk, id, said)
}

fn change(
    desk: &Desk,
    at: &AtTag,
    facts: &Facts,
    (new_tag, room): (Option<&String>, Option<&String>),
) -> Result<FixtureId> {
    let found = at.find(desk)?;
    let placed = desk
        .db
        .read(|conn| fixtures::by_key(conn, &desk.actor.scope, found.id))?;
    let mut place = TagForm {
        tag: placed.tag.label,
        room: placed.room.map_or_else(String::new, |room| room.name),
    };
    take(&mut place.tag, new_tag);
    take(&mut place.room, room);
    let command = ChangeFixture {
        text: facts.over(FixtureText::from(&placed.fixture.facts)),
        place: (new_tag.is_some() || room.is_some()).then_some(place),
    };
    change_fixture::change(&desk.db, &desk.actor, desk.now, found.id, &command)?;
    Ok(found.id)
}

/// Says what was done, and prints where the fixture stands.
fn tell(desk: &Desk, id: FixtureId, said: &str) -> Result<()> {
    let placed = desk
        .db
        .read(|conn| fixtures::by_key(conn, &desk.actor.scope, id))?;
    eprintln!("{said}");
    crate::cli::say!(
        "{} {} {}",
        placed.building.facts.code,
        placed.unit.facts.label,
        placed.tag.label
    );
    Ok(())
}
