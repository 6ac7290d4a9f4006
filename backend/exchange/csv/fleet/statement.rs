//! What a file says of one building, whichever form it came in: records by unit, room, place and fixture, before they are read.

use super::record::{Place, Record};
use crate::domain::trade::PartKind;

/// Everything said of one building.
#[derive(Debug)]
pub struct Statement {
    /// Code, in capitals.
    pub code: String,
    /// The building itself; none when only its units are mentioned.
    pub building: Option<Record>,
    /// Its portfolio.
    pub portfolio: Option<Record>,
    /// Where the building is first mentioned.
    pub place: Place,
    /// Units, in the order in which they are first mentioned.
    pub units: Vec<UnitSaid>,
}

/// Everything said of one unit.
#[derive(Debug)]
pub struct UnitSaid {
    /// Label, trimmed.
    pub label: String,
    /// The unit itself; none when it is only mentioned.
    pub record: Option<Record>,
    /// Where it is first mentioned.
    pub place: Place,
    /// Households.
    pub households: Vec<Record>,
    /// Rooms.
    pub rooms: Vec<RoomSaid>,
    /// Places.
    pub tags: Vec<TagSaid>,
}

/// What is said of one room.
#[derive(Debug)]
pub struct RoomSaid {
    /// Name, trimmed.
    pub name: String,
    /// The room itself.
    pub record: Record,
}

/// Everything said of one place.
#[derive(Debug)]
pub struct TagSaid {
    /// Label, trimmed, in capitals.
    pub label: String,
    /// The place itself; none when it is only mentioned.
    pub record: Option<Record>,
    /// Where it is first mentioned.
    pub place: Place,
    /// Fixtures, in the order of the file.
    pub fixtures: Vec<FixtureSaid>,
    /// Last-done days.
    pub prior_done: Vec<PriorSaid>,
}

/// What is said of one fixture.
#[derive(Debug)]
pub struct FixtureSaid {
    /// The fixture itself.
    pub record: Record,
    /// Its number among those of the place, in the folder.
    pub number: Option<String>,
    /// Its parts.
    pub parts: PartsSaid,
}

/// What is said of the parts of a fixture.
#[derive(Debug)]
pub enum PartsSaid {
    /// Nothing: those that are known stay, a new fixture gets the standard ones.
    Nothing,
    /// The parts that are there now, in the cell `parts` of the fixture's record.
    Now,
    /// Each part that is or was there, a record each.
    Each(Vec<Record>),
}

/// A last-done day.
#[derive(Debug)]
pub struct PriorSaid {
    /// Code of the check.
    pub check: String,
    /// On which part, none for the fixture, or for each part when the check is one on parts.
    pub part: Option<PartKind>,
    /// Name of the column with the day.
    pub column: String,
    /// The day as text.
    pub day: String,
    /// Where.
    pub place: Place,
}
