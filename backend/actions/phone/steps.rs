//! Takes the steps of a turnover from a phone: to its next stage, and closed with a signature. What keeps a step back is answered with its
//! sentences and kept nowhere, so that the same step may come again; a signature for a turnover that is over is kept for the manager.

use super::place;
use super::taking::{Done, Late, Taking};
use crate::actions::turnovers::close::Signature;
use crate::actions::turnovers::{Advance, Close, advance as step, close as end};
use crate::domain::code::Coded as _;
use crate::domain::register::TurnoverId;
use crate::domain::turnover::Stage;
use crate::error::{Error, Result};
use crate::exchange::phone::signature;
use crate::exchange::phone::sync::{Advance as WireAdvance, Close as WireClose, Sent, State, Told};
use crate::store::arrivals::Cause;
use crate::store::{Tx, turnovers};

pub(super) fn advance(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &WireAdvance) -> Result<Done> {
    let id = TurnoverId(one.turnover);
    let to = Stage::from_code(&one.to).map_err(Error::refused)?;
    let before = turnovers::find(tx, &taking.actor.scope, id)?;
    let told = Told::new(sent.id, State::Kept);
    if before.stage == Stage::MovedIn || before.stage == to {
        return Ok(Done::Taken(Told::new(sent.id, State::Already)));
    }
    let command = Advance {
        turnover: id,
        to: Some(to),
    };
    Ok(Done::Taken(
        match step::within(tx, taking.actor, taking.now, command)? {
            Ok(_) => told,
            Err(kept_back) => Told::new(sent.id, State::Attention).saying(kept_back),
        },
    ))
}

pub(super) fn close(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &WireClose) -> Result<Done> {
    signature::check(&one.signature).map_err(Error::refused)?;
    let id = TurnoverId(one.turnover);
    let before = turnovers::find(tx, &taking.actor.scope, id)?;
    let is_own = before.closed_by == taking.actor.person && before.signed_name == one.name.trim();
    let is_repeat = before.stage == Stage::MovedIn && is_own;
    if !before.stage.is_open() && !is_repeat {
        let place = place::Place {
            building: before.building,
            unit: before.unit,
        };
        return Ok(too_late(sent, id, place, before.stage));
    }
    let command = Close {
        turnover: id,
        name: one.name.clone(),
    };
    let signed = Signature {
        path: one.signature.clone(),
        signed_at: taking.done_at(sent),
    };
    let state = if before.stage.is_open() {
        State::Kept
    } else {
        State::Already
    };
    match end::within(tx, taking.actor, taking.now, &command, Some(&signed)) {
        Ok(_) => Ok(Done::Taken(Told::new(sent.id, state))),
        // What keeps it back writes nothing.
        Err(error @ (Error::Refused(_) | Error::Fields(_))) => Ok(Done::Taken(
            Told::new(sent.id, State::Attention).saying(error.to_string()),
        )),
        Err(other) => Err(other),
    }
}

fn too_late(sent: &Sent, turnover: TurnoverId, place: place::Place, stage: Stage) -> Done {
    let over = if stage == Stage::MovedIn {
        "closed by somebody else"
    } else {
        "cancelled"
    };
    let told = Told::new(sent.id, State::Late).saying(format!(
        "The turnover was {over} before this came in. The signature was kept, and the manager sees it."
    ));
    let late = Late {
        cause: Cause::TurnoverOver,
        place,
        turnover: Some(turnover),
        result: None,
    };
    Done::Arrives(told, late)
}
