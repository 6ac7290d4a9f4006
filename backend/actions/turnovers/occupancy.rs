//! The occupancy of a unit in turnover: off line while a life-threatening deficiency stands, else in turnover; afterwards as the
//! households say. It is the only thing here that writes it.

use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{Household, Occupancy, UnitId};
use crate::domain::trade::Severity;
use crate::domain::turnover::Turnover;
use crate::error::Result;
use crate::store::audit::{self, Subject};
use crate::store::{Tx, deficiencies, due, households, turnovers, units};

/// Brings the units among these that are in turnover to the occupancy that their deficiencies allow.
///
/// # Errors
/// When the database refuses.
pub(crate) fn settle(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    of: impl IntoIterator<Item = UnitId>,
) -> Result<()> {
    for unit in of {
        if turnovers::open_of_unit(tx, unit)?.is_some() {
            let occupancy = if is_unsafe(tx, unit)? {
                Occupancy::OffLine
            } else {
                Occupancy::Turnover
            };
            set(tx, actor, now, unit, occupancy)?;
        }
    }
    Ok(())
}

/// The occupancy of a unit whose turnover is over: occupied when a household lives there by now or by the move-in, else vacant; off
/// line while a life-threatening deficiency stands.
pub(super) fn settle_after(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    turnover: &Turnover,
    by: chrono::NaiveDate,
) -> Result<()> {
    let lives_there =
        |one: &Household| one.facts.moved_in_on <= by && one.moved_out_on.is_none_or(|out| out > by);
    let occupancy = if is_unsafe(tx, turnover.unit)? {
        Occupancy::OffLine
    } else if households::of_unit(tx, turnover.unit)?.iter().any(lives_there) {
        Occupancy::Occupied
    } else {
        Occupancy::Vacant
    };
    set(tx, actor, now, turnover.unit, occupancy)
}

fn is_unsafe(tx: &mut Tx<'_>, unit: UnitId) -> Result<bool> {
    let standing = deficiencies::standing_in(tx, &[unit])?;
    Ok(standing
        .iter()
        .any(|one| one.severity == Severity::LifeThreatening))
}

fn set(tx: &mut Tx<'_>, actor: &Actor, now: Now, unit: UnitId, occupancy: Occupancy) -> Result<()> {
    let (_, before) = units::by_key(tx, &Scope::All, unit)?;
    if before.facts.occupancy == occupancy {
        return Ok(());
    }
    units::set_occupancy(tx, unit, occupancy)?;
    let subject = Subject {
        kind: "unit",
        id: unit.0,
    };
    let was = serde_json::json!({ "occupancy": before.facts.occupancy.to_string() });
    let is = serde_json::json!({ "occupancy": occupancy.to_string() });
    audit::note(tx, actor, now, "settle_occupancy", subject, &was, &is)?;
    due::refresh_tenancy(tx, unit)
}
