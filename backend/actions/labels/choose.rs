//! Which places labels are made or printed for: a whole building, some of its units, or some of its places.

use crate::domain::register::person::Scope;
use crate::domain::register::{Building, TagId, UnitId};
use crate::error::Result;
use crate::store::labels::Labelled;
use crate::store::{AnyConnection, buildings, labels};

/// Places of a building; the whole building when neither a unit nor a place is named.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Choice {
    /// Code of the building.
    pub building: String,
    /// Units whose places are meant.
    pub units: Vec<UnitId>,
    /// Places that are meant besides.
    pub tags: Vec<TagId>,
}

impl Choice {
    fn holds(&self, place: &Labelled) -> bool {
        let is_whole = self.units.is_empty() && self.tags.is_empty();
        is_whole || self.units.contains(&place.unit) || self.tags.contains(&place.tag)
    }
}

/// The building, and its chosen places where something stands in the order of a walk, labelled or not. A unit or a place of another
/// building is not among them.
///
/// # Errors
/// [`crate::error::Error::NotFound`] when there is no such building within `scope`.
pub fn choose(conn: &mut AnyConnection, scope: &Scope, choice: &Choice) -> Result<(Building, Vec<Labelled>)> {
    let building = buildings::by_code(conn, scope, &choice.building)?;
    let mut places = labels::of_building(conn, building.id)?;
    places.retain(|place| choice.holds(place));
    Ok((building, places))
}
