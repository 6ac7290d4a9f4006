//! Takes down an emergency that was said on a phone. It was no reason to wait for a signal: whoever said it had the numbers to call first.

use super::place::{Place, found, reaching};
use super::taking::{Done, Taking};
use crate::actions::urgent::{LONGEST_NOTE, Report, within};
use crate::domain::code::Coded as _;
use crate::domain::register::BuildingId;
use crate::domain::trade::urgent::Urgency;
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Sent, State, Told, Urgent};
use crate::store::{Tx, buildings};

/// Takes it down as of the place that it names, as far as that was this person's. It is never kept back for its place or the length of its
/// note: without either it is still a record that the managers get.
pub(super) fn report(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &Urgent) -> Result<Done> {
    let kind = Urgency::from_code(&one.emergency).map_err(Error::refused)?;
    let named = one.building.map(BuildingId);
    let at = match taking.unit {
        Some(unit) => taking.reaches(tx, unit)?.map(|(place, _)| place),
        None => None,
    };
    let at = at.filter(|place: &Place| named.is_none_or(|named| named == place.building));
    let actor = at.map_or_else(|| taking.actor.clone(), |place| reaching(taking.actor, place));
    let building = match named {
        Some(id) => found(buildings::by_key(tx, &actor.scope, id))?.map(|building| building.id),
        None => None,
    };
    let note = one.note.chars().filter(|c| !c.is_control() || *c == '\n');
    let report = Report {
        client_id: sent.id,
        kind,
        building,
        unit: at.map(|place| place.unit),
        note: note.take(LONGEST_NOTE).collect(),
        said_at: taking.done_at(sent),
    };
    within(tx, &actor, taking.now, &report)?;
    Ok(Done::Taken(Told::new(sent.id, State::Kept)))
}
