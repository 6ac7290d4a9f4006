//! Turnovers: opened, answered, brought from stage to stage, waived in part, closed with a signed record, or cancelled.
//!
//! Managers and the technicians of the building do all of it, but only a manager waives. Every change looks at the checklist as it is
//! then, and notes what came to it, so that it can be named with its day.

pub mod advance;
pub mod cancel;
pub mod close;
mod gather;
mod issue;
pub(crate) mod items;
pub(crate) mod occupancy;
pub mod open;
mod paper;
pub mod prove;
pub mod record;
pub mod waive;

pub use advance::{Advance, advance, refusal};
pub use cancel::{Cancel, cancel};
pub use close::{Close, close};
pub use open::{Open, Stay, open};
pub use record::{Record, StagedAnswer, record};
pub use waive::{Waive, waive};

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::domain::turnover::{Stage, Turnover};
use crate::error::{Error, Result};
use crate::store::Tx;
use crate::store::audit::{self, Subject};
use crate::store::lists::turnovers::{Survey, Surveyor};

fn staff(actor: &Actor) -> Result<()> {
    rights::staff(actor, "work on a turnover")
}

/// The turnover as it is now, which must be open.
fn survey_open(tx: &mut Tx<'_>, actor: &Actor, now: Now, id: TurnoverId) -> Result<Survey> {
    let survey = Surveyor::new(tx, now)?.survey(tx, &actor.scope, id)?;
    must_be_open(&survey.turnover)?;
    Ok(survey)
}

fn must_be_open(turnover: &Turnover) -> Result<()> {
    match turnover.stage {
        Stage::Found | Stage::Repaired | Stage::Ready => Ok(()),
        Stage::MovedIn => Err(Error::refused(
            "This turnover is closed, and its record stays as it was signed. Open a new one at the next move-out.",
        )),
        Stage::Cancelled => Err(Error::refused(
            "This turnover was cancelled. Open a new one for the unit.",
        )),
    }
}

/// What the audit trail keeps of a turnover.
fn snapshot(one: &Turnover) -> serde_json::Value {
    serde_json::json!({
        "unit": one.unit.0,
        "stage": one.stage.to_string(),
        "move_out_on": one.facts.move_out_on.to_string(),
        "move_in_on": one.facts.move_in_on.to_string(),
        "note": one.facts.note,
        "signed_name": one.signed_name,
    })
}

fn note(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    action: &str,
    before: Option<&Turnover>,
    after: &Turnover,
) -> Result<()> {
    let subject = Subject {
        kind: "turnover",
        id: after.id.0,
    };
    audit::note(
        tx,
        actor,
        now,
        action,
        subject,
        &before.map(snapshot),
        &snapshot(after),
    )
}
