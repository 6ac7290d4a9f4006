//! The rooms of a unit, in the order in which one walks them. Knows no fixture.

use super::typed::Typed;
use super::{RoomId, UnitId};
use crate::domain::field::FieldError;

/// The most rooms that a unit has.
pub const MOST_ROOMS: usize = 60;

/// A room of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    /// Key.
    pub id: RoomId,
    /// Where.
    pub unit: UnitId,
    /// Unique in the unit.
    pub name: String,
    /// 1 is first.
    pub walk_order: i64,
}

/// Reads the name of a room, field `room`.
///
/// # Errors
/// A sentence when it can't be used.
pub fn read_name(given: &str) -> Result<String, Vec<FieldError>> {
    let mut typed = Typed::new();
    let name = typed.needed("room", "Room", given, 40);
    typed.finish(name)
}
