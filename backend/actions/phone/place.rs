//! Where an op belongs, and whether it may come from there: a unit that the person sees, or one that this phone or person fetched before it
//! was given to others.

use chrono::TimeDelta;
use uuid::Uuid;

use super::taking::Taking;
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{BuildingId, DeficiencyId, FixtureId, PersonId, TurnoverId, UnitId, VisitId};
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Op, Sent};
use crate::store::{Tx, deficiencies, phones, results, spots, visits};

/// How long ago a unit may have been fetched for what was done there to be heard still, days: as long as a phone may keep it.
const HEARD_DAYS: i64 = super::KNOWN_DAYS;

/// A unit with its building.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Place {
    pub building: BuildingId,
    pub unit: UnitId,
}

/// How a person reaches a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reach {
    /// They see it.
    Seen,
    /// They, or whoever was signed in on this phone, had its checklist before it was given to others.
    Had,
}

/// How a person reaches a unit; none when they may not know that it exists.
pub(super) fn reach(
    tx: &mut Tx<'_>,
    actor: &Actor,
    person: PersonId,
    phone: Uuid,
    unit: UnitId,
    now: Now,
) -> Result<Option<(Place, Reach)>> {
    let Some(found) = found(spots::unit(tx, &Scope::All, unit))? else {
        return Ok(None);
    };
    let place = Place {
        building: found.building.id,
        unit,
    };
    if actor.scope.sees(place.building) {
        return Ok(Some((place, Reach::Seen)));
    }
    let since = now.0 - TimeDelta::days(HEARD_DAYS);
    let had = phones::had(tx, phone, person, unit, since)?;
    Ok(had.then_some((place, Reach::Had)))
}

/// Somebody who may record in a building that is no longer theirs, for this once.
pub(super) fn reaching(actor: &Actor, place: Place) -> Actor {
    let scope = match &actor.scope {
        Scope::All => Scope::All,
        Scope::Buildings(seen) => {
            let mut seen = seen.clone();
            seen.insert(place.building);
            Scope::Buildings(seen)
        }
    };
    Actor {
        scope,
        ..actor.clone()
    }
}

/// Where an op belongs as far as it says so and the person reaches it: what it names first, then the unit of its batch.
pub(super) fn of_op(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent) -> Result<Option<(Place, Reach)>> {
    if let Some(unit) = named(tx, sent)?
        && let Some(found) = taking.reaches(tx, unit)?
    {
        return Ok(Some(found));
    }
    match taking.unit {
        Some(unit) => taking.reaches(tx, unit),
        None => Ok(None),
    }
}

/// The unit of what an op names.
fn named(tx: &mut Tx<'_>, sent: &Sent) -> Result<Option<UnitId>> {
    let Ok(op) = &sent.op else {
        return Ok(None);
    };
    let turnover = |tx: &mut Tx<'_>, id: i64| -> Result<Option<UnitId>> {
        Ok(results::turnover_at(tx, TurnoverId(id))?.map(|(unit, _)| unit))
    };
    let deficiency = |tx: &mut Tx<'_>, id: i64| -> Result<Option<UnitId>> {
        let one = found(deficiencies::find(tx, &Scope::All, DeficiencyId(id)))?;
        Ok(one.map(|one| one.unit))
    };
    let visit = |tx: &mut Tx<'_>, id: i64| -> Result<Option<UnitId>> {
        let one = found(visits::find(tx, &Scope::All, VisitId(id)))?;
        Ok(one.map(|one| one.unit))
    };
    match op {
        Op::Answer(one) => {
            let spot = spots::of_fixtures(tx, &Scope::All, &[FixtureId(one.fixture)])?;
            Ok(spot.into_values().next().map(|spot| spot.unit.id))
        }
        Op::Repaired(one) => match one.deficiency {
            Some(id) => deficiency(tx, id),
            None => Ok(None),
        },
        Op::Word(one) => deficiency(tx, one.deficiency),
        Op::Advance(one) => turnover(tx, one.turnover),
        Op::Close(one) => turnover(tx, one.turnover),
        Op::VisitDone(one) => visit(tx, one.visit),
        Op::NoAccess(one) => visit(tx, one.visit),
        Op::Photo(_) | Op::Report(_) | Op::Urgent(_) => Ok(None),
    }
}

/// The turnover that an op names, when it is one of the place.
pub(super) fn turnover_of(tx: &mut Tx<'_>, sent: &Sent, place: &Place) -> Result<Option<TurnoverId>> {
    let named = match &sent.op {
        Ok(Op::Answer(one)) => one.turnover,
        Ok(Op::Advance(one)) => Some(one.turnover),
        Ok(Op::Close(one)) => Some(one.turnover),
        _ => None,
    };
    let Some(id) = named.map(TurnoverId) else {
        return Ok(None);
    };
    let at = results::turnover_at(tx, id)?;
    Ok(at.filter(|(unit, _)| *unit == place.unit).map(|_| id))
}

/// What was found; none for what is not there.
pub(super) fn found<T>(asked: Result<T>) -> Result<Option<T>> {
    match asked {
        Ok(found) => Ok(Some(found)),
        Err(Error::NotFound(_)) => Ok(None),
        Err(other) => Err(other),
    }
}
