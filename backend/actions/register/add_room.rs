//! Adds a room at the end of a unit's walk.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::room::{MOST_ROOMS, read_name};
use crate::domain::register::{RoomId, Unit, UnitId};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, rooms, units};

/// Adds a room.
///
/// # Errors
/// A sentence when the name can't be used or is taken, or there is no such unit.
pub fn add(db: &Db, actor: &Actor, now: Now, unit: UnitId, name: &str) -> Result<RoomId> {
    rights::manager(actor, "add a room")?;
    let name = read_name(name).map_err(Error::Fields)?;
    db.write(|tx| {
        let (_, unit) = units::by_key(tx, &actor.scope, unit)?;
        if let Some(room) = rooms::by_name(tx, unit.id, &name)? {
            return Err(Error::field(
                "room",
                format!(
                    "The unit has a room “{}” already. Choose another name.",
                    room.name
                ),
            ));
        }
        insert(tx, actor, now, &unit, &name)
    })
}

/// The room of this name, added when the unit has none; nothing for an empty name.
pub(super) fn find_or_add(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    unit: &Unit,
    name: &str,
) -> Result<Option<RoomId>> {
    if name.trim().is_empty() {
        return Ok(None);
    }
    let name = read_name(name).map_err(Error::Fields)?;
    match rooms::by_name(tx, unit.id, &name)? {
        Some(room) => Ok(Some(room.id)),
        None => insert(tx, actor, now, unit, &name).map(Some),
    }
}

fn insert(tx: &mut Tx<'_>, actor: &Actor, now: Now, unit: &Unit, name: &str) -> Result<RoomId> {
    if rooms::of_unit(tx, unit.id)?.len() >= MOST_ROOMS {
        return Err(Error::field(
            "room",
            format!("A unit has at most {MOST_ROOMS} rooms. Use one that is there."),
        ));
    }
    let id = rooms::insert(tx, unit.id, name)?;
    let room = rooms::by_key(tx, unit.id, id)?;
    let subject = Subject {
        kind: "room",
        id: id.0,
    };
    audit::note(
        tx,
        actor,
        now,
        "add_room",
        subject,
        &(),
        &snapshot::rooms(&[room]),
    )?;
    Ok(id)
}
