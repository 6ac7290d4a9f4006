//! Adds a unit or common area to a building.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, Occupancy, UnitFacts, UnitId, UnitText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, buildings, units};

/// Adds a unit.
///
/// # Errors
/// A sentence for each field that can't be used, that the label is taken, or that there is no such building.
pub fn add(db: &Db, actor: &Actor, now: Now, building: BuildingId, text: &UnitText) -> Result<UnitId> {
    rights::manager(actor, "add a unit")?;
    let facts = UnitFacts::read(text).map_err(Error::Fields)?;
    if facts.occupancy == Occupancy::Turnover {
        return Err(Error::field(
            "occupancy",
            "A unit gets into turnover by opening one. Choose vacant here, then start the turnover.",
        ));
    }
    db.write(|tx| {
        let building = buildings::by_key(tx, &actor.scope, building)?;
        if units::by_label(tx, building.id, &facts.label)?.is_some() {
            return Err(taken(&building.facts.code, &facts.label));
        }
        let id = units::insert(tx, building.id, &facts)?;
        let (_, unit) = units::by_key(tx, &actor.scope, id)?;
        let subject = Subject {
            kind: "unit",
            id: id.0,
        };
        audit::note(tx, actor, now, "add_unit", subject, &(), &snapshot::unit(&unit))?;
        Ok(id)
    })
}

/// The refusal of a label that another unit of the building has.
pub(super) fn taken(building: &str, label: &str) -> Error {
    Error::field(
        "label",
        format!(
            "{building} has a unit {label} already. Choose another label, or change the one that is there."
        ),
    )
}
