//! Schedules: adding, changing, copying, switching, and seeing beforehand what one would do. Managers alone.
//!
//! A change is written in one short transaction that marks the due rows stale; they are renewed right after it, batch by batch, and a
//! stopped process's rest by whoever comes next.

mod add;
mod change;
mod copy;
mod impact;
mod known;
mod preview;
mod switch;
mod take_in;
mod undo;

pub use add::add;
pub use change::change;
pub use copy::copy;
pub use impact::{Impact, impact};
pub use known::Words;
pub use preview::{Preview, preview};
pub use switch::{Switch, switch, switch_pack};
pub use take_in::take_in;
pub use undo::{is_as_added, undo};

use serde_json::{Value, json};

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::due::{Anchor, Schedule, Season, Terms, pack_code};
use crate::domain::register::ScheduleId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{AnyConnection, Tx, due, schedules};

fn managers_only(actor: &Actor) -> Result<()> {
    rights::manager(actor, "change schedules")
}

/// The schedule with this code.
fn find(conn: &mut AnyConnection, code: &str) -> Result<Schedule> {
    schedules::by_code(conn, code.trim())?.ok_or_else(|| Error::not_found("such schedule"))
}

fn by(actor: &Actor, now: Now) -> schedules::By {
    schedules::By {
        at: now.0,
        person: actor.person,
    }
}

/// Makes a schedule say something else: what it said is kept, the change noted, and the due rows marked stale when it asks or asked.
fn replace(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    before: &Schedule,
    terms: &Terms,
    action: &'static str,
) -> Result<()> {
    schedules::update(tx, before, terms, by(actor, now))?;
    let (was, is) = (snapshot(&before.terms), snapshot(terms));
    audit::note(tx, actor, now, action, subject(before.id), &was, &is)?;
    if before.terms.active || terms.active {
        due::mark_stale(tx)?;
    }
    Ok(())
}

fn subject(id: ScheduleId) -> Subject {
    Subject {
        kind: "schedule",
        id: id.0,
    }
}

/// What the audit trail keeps.
fn snapshot(terms: &Terms) -> Value {
    let (timing, scope) = (&terms.timing, &terms.scope);
    let start = match timing.anchor() {
        Anchor::Calendar(rule) => Some(rule.start()),
        Anchor::LastDone(_) => None,
    };
    let codes = |list: &mut dyn Iterator<Item = &'static str>| list.collect::<Vec<_>>();
    json!({
        "code": terms.code, "name": terms.name, "pack": pack_code(terms.pack), "active": terms.active,
        "recorded_only": terms.recorded_only, "anchor": timing.anchor().code(), "rule": timing.anchor().text(), "start": start,
        "lead_days": timing.lead_days(), "grace_days": timing.grace_days(), "early_days": timing.early_days(),
        "scope_kinds": codes(&mut scope.kinds.iter().map(|kind| kind.code())),
        "scope_parts": codes(&mut scope.parts.iter().map(|part| part.code())), "scope_buildings": scope.buildings, "scope_tags": scope.tags,
        "scope_min_age_years": scope.min_age_years, "scope_max_age_years": scope.max_age_years, "scope_min_failures": scope.min_failures,
        "on_closed_days": timing.moving().on_closed_days.code(), "season_months": timing.moving().season.map(Season::codes),
        "vacancy": timing.moving().vacancy.code(),
        "checks": terms.checks.iter().map(|check| check.0).collect::<Vec<_>>(),
        "technician_id": terms.technician.map(|person| person.0),
    })
}
