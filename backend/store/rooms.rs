//! Rooms as stored. Callers give a unit that the asker may see.

use diesel::prelude::*;

use super::schema::rooms;
use super::{AnyConnection, Tx};
use crate::domain::register::{Room, RoomId, UnitId};
use crate::error::{Error, Result};

pub(super) type Row = (i64, i64, String, i64);

pub(super) fn room((id, unit_id, name, walk_order): Row) -> Room {
    Room {
        id: RoomId(id),
        unit: UnitId(unit_id),
        name,
        walk_order,
    }
}

/// Stores a new room at the end of the walk.
///
/// # Errors
/// When its name is taken in the unit, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, unit: UnitId, name: &str) -> Result<RoomId> {
    let last: Option<i64> = rooms::table
        .filter(rooms::unit_id.eq(unit.0))
        .select(diesel::dsl::max(rooms::walk_order))
        .first(&mut **tx)?;
    let id: i64 = diesel::insert_into(rooms::table)
        .values((
            rooms::unit_id.eq(unit.0),
            rooms::name.eq(name),
            rooms::walk_order.eq(last.unwrap_or(0) + 1),
        ))
        .returning(rooms::id)
        .get_result(&mut **tx)?;
    Ok(RoomId(id))
}

/// Stores the name and the place in the walk of a room.
///
/// # Errors
/// When its name is taken in the unit, or the database refuses.
pub fn update(tx: &mut Tx<'_>, room: &Room) -> Result<()> {
    diesel::update(rooms::table.find(room.id.0))
        .set((rooms::name.eq(&room.name), rooms::walk_order.eq(room.walk_order)))
        .execute(&mut **tx)?;
    Ok(())
}

/// The room with this key in a unit that the caller may see.
///
/// # Errors
/// When there is none in it, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, unit: UnitId, id: RoomId) -> Result<Room> {
    let row: Option<Row> = rooms::table
        .find(id.0)
        .filter(rooms::unit_id.eq(unit.0))
        .first(conn)
        .optional()?;
    row.map(room).ok_or_else(|| Error::not_found("such room"))
}

/// The room with this name in a unit that the caller may see; capitals or not.
///
/// # Errors
/// When the database does not answer.
pub fn by_name(conn: &mut AnyConnection, unit: UnitId, name: &str) -> Result<Option<Room>> {
    let wanted = name.trim().to_lowercase();
    Ok(of_unit(conn, unit)?
        .into_iter()
        .find(|room| room.name.to_lowercase() == wanted))
}

/// The rooms of a unit in the order of the walk.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Room>> {
    let rows: Vec<Row> = rooms::table
        .filter(rooms::unit_id.eq(unit.0))
        .order((rooms::walk_order, rooms::id))
        .load(conn)?;
    Ok(rows.into_iter().map(room).collect())
}
