//! Changes a unit: its label, place in the elevation, kind and occupancy. A turnover moves the unit by itself.

use super::add_unit::taken;
use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{Occupancy, Unit, UnitFacts, UnitId, UnitKind, UnitText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, due, fixtures, households, units};

/// Changes a unit.
///
/// # Errors
/// A sentence for each field that can't be used, that the label is taken, that a turnover is open, or that there is no such unit.
pub fn change(db: &Db, actor: &Actor, now: Now, id: UnitId, text: &UnitText) -> Result<()> {
    rights::manager(actor, "change a unit")?;
    let facts = UnitFacts::read(text).map_err(Error::Fields)?;
    db.write(|tx| {
        let (building, before) = units::by_key(tx, &actor.scope, id)?;
        let other = units::by_label(tx, building.id, &facts.label)?;
        if other.is_some_and(|other| other.id != id) {
            return Err(taken(&building.facts.code, &facts.label));
        }
        check_occupancy(tx, &before, &facts)?;
        let after = Unit {
            facts,
            ..before.clone()
        };
        if after.facts.kind == UnitKind::CommonArea {
            let today = now.date_in(building.facts.time_zone);
            let living = households::of_unit(tx, id)?;
            if living
                .iter()
                .any(|household| household.moved_out_on.is_none_or(|out| today < out))
            {
                return Err(Error::field(
                    "kind",
                    "A household lives in this unit, so it is no common area. Note its move-out first.",
                ));
            }
        }
        units::update(tx, &after)?;
        let subject = Subject {
            kind: "unit",
            id: id.0,
        };
        let (was, is) = (snapshot::unit(&before), snapshot::unit(&after));
        audit::note(tx, actor, now, "change_unit", subject, &was, &is)?;
        let fixtures = fixtures::keys_in_unit(tx, id)?;
        due::refresh_fixtures(tx, &fixtures)
    })
}

fn check_occupancy(tx: &mut Tx<'_>, before: &Unit, facts: &UnitFacts) -> Result<()> {
    if before.facts.occupancy == facts.occupancy {
        return Ok(());
    }
    if units::open_turnover(tx, before.id)?.is_some() {
        return Err(Error::field(
            "occupancy",
            "A turnover of this unit is open and moves it by itself. Close or cancel the turnover first.",
        ));
    }
    if facts.occupancy == Occupancy::Turnover {
        return Err(Error::field(
            "occupancy",
            "A unit gets into turnover by opening one. Use “Start turnover” on the unit's page.",
        ));
    }
    Ok(())
}
