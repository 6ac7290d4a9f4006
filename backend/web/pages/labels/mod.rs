//! Printed labels of places: who has one, sheets to print, and where a scanned one leads.

pub mod building;
pub mod lead;
pub mod renew;
pub mod sheet;

use crate::actions::labels::Choice;
use crate::domain::register::{TagId, UnitId};
use crate::store::labels::Labelled;
use crate::web::form::Fields;

/// The places that a form or an address chooses.
fn chosen(building: &str, fields: &Fields) -> Choice {
    let keys = |name| fields.all(name).filter_map(|key| key.parse().ok());
    Choice {
        building: building.to_owned(),
        units: keys("unit").map(UnitId).collect(),
        tags: keys("place").map(TagId).collect(),
    }
}

/// The address of the labels of a building, of one unit when it is named.
fn home(building: &str, unit: Option<UnitId>) -> String {
    let unit = unit.map_or_else(String::new, |unit| format!("?unit={unit}"));
    format!("/buildings/{building}/labels{unit}")
}

/// Where the first label goes, as typed; at the beginning of a sheet when nothing was.
fn first_position(fields: &Fields) -> String {
    match fields.text("start") {
        "" => "1".to_owned(),
        typed => typed.to_owned(),
    }
}

/// How many of these places have a label.
fn labelled(places: &[Labelled]) -> usize {
    places.iter().filter(|place| place.code.is_some()).count()
}
