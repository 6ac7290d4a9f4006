//! Tags, the places of fixtures, as stored. Callers give a unit that the asker may see.

use diesel::prelude::*;

use super::schema::tags;
use super::{AnyConnection, Tx};
use crate::domain::register::label::sort_order;
use crate::domain::register::tag::next_label;
use crate::domain::register::{RoomId, Tag, TagId, UnitId};
use crate::domain::trade::FixtureKind;
use crate::error::{Error, Result};

pub(super) type Row = (i64, i64, Option<i64>, String, String);

pub(super) fn tag((id, unit_id, room_id, label, _): Row) -> Tag {
    Tag {
        id: TagId(id),
        unit: UnitId(unit_id),
        room: room_id.map(RoomId),
        label,
    }
}

/// Stores a new place.
///
/// # Errors
/// When its label is taken in the unit, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, unit: UnitId, room: Option<RoomId>, label: &str) -> Result<TagId> {
    let id: i64 = diesel::insert_into(tags::table)
        .values((
            tags::unit_id.eq(unit.0),
            tags::room_id.eq(room.map(|id| id.0)),
            tags::label.eq(label),
            tags::label_order.eq(sort_order(label)),
        ))
        .returning(tags::id)
        .get_result(&mut **tx)?;
    Ok(TagId(id))
}

/// Stores the label and the room of a place.
///
/// # Errors
/// When its label is taken in the unit, or the database refuses.
pub fn update(tx: &mut Tx<'_>, tag: &Tag) -> Result<()> {
    diesel::update(tags::table.find(tag.id.0))
        .set((
            tags::room_id.eq(tag.room.map(|id| id.0)),
            tags::label.eq(&tag.label),
            tags::label_order.eq(sort_order(&tag.label)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The place with this key.
///
/// # Errors
/// When there is none, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, id: TagId) -> Result<Tag> {
    let row: Option<Row> = tags::table.find(id.0).first(conn).optional()?;
    row.map(tag).ok_or_else(|| Error::not_found("such tag"))
}

/// The place with this label in a unit; capitals or not.
///
/// # Errors
/// When the database does not answer.
pub fn by_label(conn: &mut AnyConnection, unit: UnitId, label: &str) -> Result<Option<Tag>> {
    let row: Option<Row> = tags::table
        .filter(tags::unit_id.eq(unit.0))
        .filter(tags::label.eq(label.trim().to_uppercase()))
        .first(conn)
        .optional()?;
    Ok(row.map(tag))
}

/// The places of a unit, by label as people count.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Tag>> {
    let rows: Vec<Row> = tags::table
        .filter(tags::unit_id.eq(unit.0))
        .order((tags::label_order, tags::id))
        .load(conn)?;
    Ok(rows.into_iter().map(tag).collect())
}

/// The next free label of a kind in a unit: `WC-2` where `WC-1` is.
///
/// # Errors
/// When the database does not answer.
pub fn next_free_label(conn: &mut AnyConnection, unit: UnitId, kind: FixtureKind) -> Result<String> {
    let taken: Vec<String> = tags::table
        .filter(tags::unit_id.eq(unit.0))
        .select(tags::label)
        .load(conn)?;
    Ok(next_label(kind, taken.iter().map(String::as_str)))
}
