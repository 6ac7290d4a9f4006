//! When planned work is done in buildings: their working days, public holidays and shut-down periods. Managers alone.
//!
//! A change of one building renews its due rows with it; one that is given to many marks them stale and renews them batch by batch.

mod change_closing;
mod close;
mod give;
mod open;
mod take_in;
mod week;

pub use change_closing::change_closing;
pub use close::close;
pub use give::{Given, To, give, receivers};
pub use open::open;
pub use take_in::take_in;
pub use week::set_week;

use serde_json::{Value, json};

use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::due::{Closing, ClosingText, WorkCalendar};
use crate::domain::register::BuildingId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::lists::due_lines;
use crate::store::{Db, Tx, buildings, calendars, due};

fn managers_only(actor: &Actor) -> Result<()> {
    rights::manager(actor, "change when planned work is done in a building")
}

/// Changes the calendar of one building, notes it and renews its due rows. Answers with how many of its due dates moved.
fn change(
    db: &Db,
    actor: &Actor,
    now: Now,
    building: BuildingId,
    make: impl Fn(&mut Tx<'_>) -> Result<()>,
) -> Result<usize> {
    managers_only(actor)?;
    db.write(|tx| {
        buildings::by_key(tx, &actor.scope, building)?;
        let before = calendars::of_building(tx, building)?;
        make(tx)?;
        let after = calendars::of_building(tx, building)?;
        if after == before {
            return Ok(0);
        }
        note(tx, actor, now, building, &before, &after)?;
        let were = due_lines::dates_of(tx, building)?;
        due::refresh_building(tx, building)?;
        let are = due_lines::dates_of(tx, building)?;
        let moved = are
            .iter()
            .filter(|(item, day)| were.get(*item).is_some_and(|was| was != *day));
        Ok(moved.count())
    })
}

/// The same closed days stand in a calendar once.
fn refuse_twice<'a>(mut known: impl Iterator<Item = &'a Closing>, wanted: &Closing) -> Result<()> {
    if known.any(|other| other == wanted) {
        let sentence = format!("{} is there already. Choose other days.", wanted.name);
        return Err(Error::field("name", sentence));
    }
    Ok(())
}

fn note(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    building: BuildingId,
    before: &WorkCalendar,
    after: &WorkCalendar,
) -> Result<()> {
    let subject = Subject {
        kind: "building",
        id: building.0,
    };
    let (was, is) = (snapshot(before), snapshot(after));
    audit::note(tx, actor, now, "set_calendar", subject, &was, &is)
}

/// What the audit trail keeps.
fn snapshot(calendar: &WorkCalendar) -> Value {
    let closing = |closing| {
        let text = ClosingText::of(closing);
        json!({ "kind": text.kind, "name": text.name, "start": text.start, "rule": text.rule, "days": text.days })
    };
    json!({
        "working_days": calendar.working_days.codes(),
        "closings": calendar.closings.iter().map(closing).collect::<Vec<_>>(),
    })
}
