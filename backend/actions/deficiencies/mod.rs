//! Deficiencies: reported by a resident, assigned, repaired, noted, re-checked. What a failing result opens comes through `results`.

pub mod assign;
pub mod note;
pub mod recheck;
pub mod repaired;
pub mod report;
pub mod times;
pub mod titles;

pub use assign::{Assign, Assignee, assign};
pub use note::{Note, note};
pub use recheck::{Recheck, Rechecked, recheck};
pub use repaired::{Repaired, repaired};
pub use report::{Report, report};
pub use titles::Titles;

use chrono::NaiveDateTime;

use crate::actions::turnovers::occupancy;
use crate::clock::Now;
use crate::domain::register::ResultId;
use crate::domain::register::person::Actor;
use crate::domain::result::{Deficiency, DeficiencyStatus, EventKind};
use crate::error::{Error, Result};
use crate::store::deficiencies::Event;
use crate::store::{Tx, audit, deficiencies};

/// The longest name of a vendor, characters.
pub(crate) const LONGEST_NAME: usize = 120;

/// Nothing is done to a closed deficiency: a new failure opens a new one.
fn must_stand(one: &Deficiency) -> Result<()> {
    if one.status == DeficiencyStatus::Closed {
        return Err(Error::refused(format!(
            "Number {} is closed, and its history stays as it is. If it is wrong again, record the failing check or report it anew.",
            one.id
        )));
    }
    Ok(())
}

/// Writes a changed deficiency with its event and the audit trail. `at` is when it was done, UTC: on a phone before it was received.
fn change(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    (before, after): (&Deficiency, &Deficiency),
    (kind, text): (EventKind, String),
) -> Result<()> {
    deficiencies::update(tx, after)?;
    happened(tx, actor, at, after, (kind, text, None))?;
    let subject = audit::Subject {
        kind: "deficiency",
        id: after.id.0,
    };
    audit::note(
        tx,
        actor,
        now,
        &format!("deficiency_{kind}"),
        subject,
        &summary(before),
        &summary(after),
    )?;
    occupancy::settle(tx, actor, now, [after.unit])
}

/// Appends an event; `at` is when it was done, UTC.
fn happened(
    tx: &mut Tx<'_>,
    actor: &Actor,
    at: NaiveDateTime,
    one: &Deficiency,
    (kind, text, result): (EventKind, String, Option<ResultId>),
) -> Result<()> {
    deficiencies::append_event(
        tx,
        &Event {
            deficiency: one.id,
            at,
            person: actor.person,
            kind,
            text,
            result,
        },
    )
}

/// What the audit trail keeps of a deficiency: all that an action changes.
fn summary(one: &Deficiency) -> serde_json::Value {
    serde_json::json!({
        "status": one.status.to_string(),
        "severity": one.severity.to_string(),
        "assignee": one.assignee.map(|person| person.0),
        "vendor": one.vendor,
        "repaired_at": one.repaired_at.map(|at| at.to_string()),
        "parts_used": one.parts_used,
        "minutes": one.minutes,
        "cost_minor": one.cost_minor,
        "closed_at": one.closed_at.map(|at| at.to_string()),
        "closed_how": one.closed_how.map(|how| how.to_string()),
    })
}
