//! Takes the end of a visit from a phone. A visit that was closed otherwise meanwhile stays as it is, and the manager is told.

use super::place::Place;
use super::taking::{Done, Late, Taking};
use crate::actions::visits::{NoAccess, done as end, no_access as attempt};
use crate::domain::register::VisitId;
use crate::domain::visit::{Visit, VisitStatus};
use crate::error::Result;
use crate::exchange::phone::sync::{NoAccess as WireNoAccess, Sent, State, Told, VisitDone};
use crate::store::arrivals::Cause;
use crate::store::{Tx, visits};

pub(super) fn done(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &VisitDone) -> Result<Done> {
    let id = VisitId(one.visit);
    let before = visits::find(tx, &taking.actor.scope, id)?;
    if let Some(done) = closed(sent, &before, VisitStatus::Done) {
        return Ok(done);
    }
    end::within(tx, taking.actor, taking.now, id)?;
    Ok(Done::Taken(Told::new(sent.id, State::Kept)))
}

pub(super) fn no_access(
    tx: &mut Tx<'_>,
    taking: &Taking<'_>,
    sent: &Sent,
    one: &WireNoAccess,
) -> Result<Done> {
    let id = VisitId(one.visit);
    let before = visits::find(tx, &taking.actor.scope, id)?;
    if let Some(done) = closed(sent, &before, VisitStatus::NoAccess) {
        return Ok(done);
    }
    let command = NoAccess {
        offered: one.reason.clone(),
        text: one.text.clone(),
    };
    let at = taking.done_at(sent);
    attempt::within(tx, taking.actor, taking.now, at, id, &command)?;
    Ok(Done::Taken(Told::new(sent.id, State::Kept)))
}

/// What a visit that is no longer planned makes of its end.
fn closed(sent: &Sent, visit: &Visit, wanted: VisitStatus) -> Option<Done> {
    if visit.status == VisitStatus::Planned {
        return None;
    }
    if visit.status == wanted {
        return Some(Done::Taken(Told::new(sent.id, State::Already)));
    }
    let told = Told::new(sent.id, State::Late).saying(format!(
        "The visit was closed as “{}” before this came in, and stays so. This was kept, and the manager sees it.",
        visit.status.name().to_lowercase()
    ));
    let late = Late {
        cause: Cause::Reassigned,
        place: Place {
            building: visit.building,
            unit: visit.unit,
        },
        turnover: None,
        result: None,
    };
    Some(Done::Arrives(told, late))
}
