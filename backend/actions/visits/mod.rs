//! Visits by hand: planned for a day, begun on the spot, and closed as done, without access, or cancelled. Managers and technicians,
//! each in the buildings they see.

mod cancel;
pub(crate) mod done;
pub(crate) mod no_access;
mod plan;
mod start;

pub use cancel::cancel;
pub use done::done;
pub use no_access::{NoAccess, no_access};
pub use plan::{PlanVisit, plan};
pub use start::{Begun, mine, open_there, start};

use serde_json::{Value, json};

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{UnitId, VisitId};
use crate::domain::visit::{Service, Visit, VisitStatus};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::lists::record::{self, DueRow};
use crate::store::{AnyConnection, Tx, visits};

/// The longest note or reason, characters.
pub const LONGEST_TEXT: usize = 1_000;

fn staff_only(actor: &Actor) -> Result<()> {
    rights::staff(actor, "plan and close visits")
}

/// The visit, which must still be planned.
fn planned(tx: &mut Tx<'_>, actor: &Actor, id: VisitId) -> Result<Visit> {
    let visit = visits::find(tx, &actor.scope, id)?;
    match visit.status {
        VisitStatus::Planned => Ok(visit),
        status => Err(Error::Conflict(format!(
            "Visit {id} is closed already as “{}”. Plan another one if somebody has to go again.",
            status.name().to_lowercase()
        ))),
    }
}

/// The due rows of a unit as services of a visit.
fn due_there(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<(Service, DueRow)>> {
    let rows = record::of_unit(conn, unit)?;
    Ok(rows.into_iter().map(|row| (service_of(&row), row)).collect())
}

fn service_of(row: &DueRow) -> Service {
    Service::Check {
        fixture: row.fixture,
        part: row.part,
        check: row.check,
    }
}

/// Free text as it is kept, or a sentence when it is too long.
fn text(field: &str, label: &str, given: &str) -> Result<String> {
    let text = crate::actions::results::take::text(given);
    let length = text.chars().count();
    if length > LONGEST_TEXT {
        return Err(Error::field(
            field,
            format!("{label} has {length} characters. Keep it to {LONGEST_TEXT}."),
        ));
    }
    Ok(text)
}

fn note(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    action: &str,
    before: Option<&Visit>,
    after: &Visit,
) -> Result<()> {
    let subject = Subject {
        kind: "visit",
        id: after.id.0,
    };
    let was = before.map_or(Value::Null, snapshot);
    audit::note(tx, actor, now, action, subject, &was, &snapshot(after))
}

fn snapshot(visit: &Visit) -> Value {
    json!({
        "unit": visit.unit.0, "on_date": visit.on_date, "technician_id": visit.technician.map(|person| person.0),
        "status": visit.status.to_string(), "reason": visit.reason, "note": visit.note,
    })
}
