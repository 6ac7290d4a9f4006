//! Renames the rooms of a unit and puts them into the order of the walk.

use std::collections::BTreeSet;

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::room::read_name;
use crate::domain::register::typed::Typed;
use crate::domain::register::{Room, RoomId, UnitId};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, rooms, units};

/// One room as typed.
#[derive(Debug, Clone)]
pub struct Line {
    /// Which room.
    pub room: RoomId,
    /// Its name.
    pub name: String,
    /// Its place in the walk, a number from 1; rooms of the same number keep their order.
    pub order: String,
}

/// Renames and reorders. Rooms that no line names stay as they are, at the end.
///
/// # Errors
/// A sentence for each name or number that can't be used (fields `name-KEY`, `order-KEY`), or that there is no such unit.
pub fn arrange(db: &Db, actor: &Actor, now: Now, unit: UnitId, lines: &[Line]) -> Result<()> {
    rights::manager(actor, "rename or reorder rooms")?;
    db.write(|tx| {
        let (_, unit) = units::by_key(tx, &actor.scope, unit)?;
        let before = rooms::of_unit(tx, unit.id)?;
        let after = arranged(&before, lines)?;
        // Names are unique in a unit, so that two rooms which trade names go through a name that nobody can type.
        for room in &after {
            let name = format!("\u{1}{}", room.id);
            rooms::update(tx, &Room { name, ..room.clone() })?;
        }
        for room in &after {
            rooms::update(tx, room)?;
        }
        let subject = Subject {
            kind: "unit",
            id: unit.id.0,
        };
        let (was, is) = (snapshot::rooms(&before), snapshot::rooms(&after));
        audit::note(tx, actor, now, "arrange_rooms", subject, &was, &is)
    })
}

fn arranged(before: &[Room], lines: &[Line]) -> Result<Vec<Room>> {
    let mut typed = Typed::new();
    let mut seen = BTreeSet::new();
    let mut ordered = Vec::new();
    for (place, room) in before.iter().enumerate() {
        let line = lines.iter().find(|line| line.room == room.id);
        let mut room = room.clone();
        let mut order = i64::MAX;
        if let Some(line) = line {
            let (name_field, order_field) = (format!("name-{}", room.id), format!("order-{}", room.id));
            match read_name(&line.name) {
                Ok(name) => room.name = name,
                Err(errors) => errors
                    .into_iter()
                    .for_each(|error| typed.refuse(&name_field, error.message)),
            }
            order = typed
                .whole(&order_field, "Place in the walk", &line.order, 1..=999)
                .unwrap_or(i64::MAX);
            if !seen.insert(room.name.to_lowercase()) {
                typed.refuse(
                    &name_field,
                    format!("Two rooms are called “{}”. Give each its own name.", room.name),
                );
            }
        } else {
            seen.insert(room.name.to_lowercase());
        }
        ordered.push((order, place, room));
    }
    ordered.sort_by_key(|(order, place, _)| (*order, *place));
    let rooms = ordered
        .into_iter()
        .zip(1..)
        .map(|((_, _, room), walk_order)| Room { walk_order, ..room })
        .collect();
    typed.finish(rooms).map_err(Error::Fields)
}
