//! Takes down that somebody said something is urgent, and mails it to the managers. It is the record of an alarm and never the alarm: whoever
//! reports has called already, or is told to.

use chrono::NaiveDateTime;
use uuid::Uuid;

use super::register::rights;
use crate::clock::Now;
use crate::domain::register::person::{Actor, Role, Scope};
use crate::domain::register::typed::Typed;
use crate::domain::register::{Building, BuildingId, Person, Unit, UnitId};
use crate::domain::trade::urgent::Urgency;
use crate::error::{Error, Result};
use crate::mail::compose::message_id;
use crate::mail::compose::urgent::{Said, letter};
use crate::store::audit::{self, Subject};
use crate::store::outbox::{self, MailKind, NewMail};
use crate::store::urgent::{self, NewReport};
use crate::store::{Db, Tx, buildings, people, units};

/// The longest note, characters.
pub const LONGEST_NOTE: usize = 1000;

/// What was said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// Made by the page or the phone; the same again changes nothing.
    pub client_id: Uuid,
    /// What it is.
    pub kind: Urgency,
    /// Where, when that was said.
    pub building: Option<BuildingId>,
    /// Where, when that was said; its building follows from it.
    pub unit: Option<UnitId>,
    /// Free text. It stays out of the mail, since it may name people.
    pub note: String,
    /// UTC, corrected by the phone's clock; later than now counts as now.
    pub said_at: NaiveDateTime,
}

/// Takes it down; true when it was not there yet.
///
/// # Errors
/// When the place is out of the person's scope, the note is too long, or nobody who is staff says it.
pub fn report(db: &Db, actor: &Actor, now: Now, report: &Report) -> Result<bool> {
    db.write(|tx| within(tx, actor, now, report))
}

/// As [`report`], in the transaction of whoever takes it from a phone.
///
/// # Errors
/// As [`report`].
pub fn within(tx: &mut Tx<'_>, actor: &Actor, now: Now, report: &Report) -> Result<bool> {
    rights::staff(actor, "take down an emergency")?;
    let person = actor.person.ok_or_else(|| {
        Error::refused("An emergency is taken down by somebody with a name. Sign in and say it there.")
    })?;
    let (building, unit) = place(tx, &actor.scope, report)?;
    let mut typed = Typed::new();
    let note = typed.lines("note", "Note", &report.note, LONGEST_NOTE);
    let note = typed.finish(note).map_err(Error::Fields)?;
    let kept = NewReport {
        client_id: report.client_id,
        kind: report.kind,
        building: building.as_ref().map(|building| building.id),
        unit: unit.as_ref().map(|unit| unit.id),
        person,
        note: &note,
        said_at: report.said_at.min(now.0),
    };
    if !urgent::insert(tx, &kept, now.0)? {
        return Ok(false);
    }
    let told = serde_json::json!({ "client_id": report.client_id, "kind": report.kind.to_string() });
    let subject = Subject {
        kind: "urgent_report",
        id: unit.as_ref().map_or(0, |unit| unit.id.0),
    };
    audit::note(tx, actor, now, "report_emergency", subject, &(), &told)?;
    for manager in people::active(tx, Role::Manager)? {
        let said = Said {
            kind: report.kind,
            building: building.as_ref(),
            unit: unit.as_ref(),
            who: &actor.name,
            said_at: kept.said_at,
            received_at: now.0,
        };
        outbox::enqueue(tx, &mail(report, &manager, &said)?, now.0)?;
    }
    Ok(true)
}

/// The building and the unit that were named, within what the person may see.
fn place(tx: &mut Tx<'_>, scope: &Scope, report: &Report) -> Result<(Option<Building>, Option<Unit>)> {
    if let Some(unit) = report.unit {
        let (building, unit) = units::by_key(tx, scope, unit)?;
        return Ok((Some(building), Some(unit)));
    }
    let building = report
        .building
        .map(|id| buildings::by_key(tx, scope, id))
        .transpose()?;
    Ok((building, None))
}

fn mail(report: &Report, to: &Person, said: &Said<'_>) -> Result<NewMail> {
    let unique_key = format!("urgent/{}/{}", report.client_id, to.id);
    let letter = letter(said, to.facts.time_zone)?;
    Ok(NewMail {
        // Without a link there is no public address that it could be of.
        message_id: message_id(&unique_key, ""),
        unique_key,
        kind: MailKind::Note,
        person: Some(to.id),
        local_date: None,
        to_address: to.facts.email.clone(),
        subject: letter.subject,
        text: letter.text,
        html: letter.html,
        sealed_link: None,
    })
}
