//! A resident's report, taken down by the office: opens a deficiency that no check found. Its severity is judged by whoever takes it
//! down; the time to correct runs from now, when the office knows of it.

use chrono::NaiveDateTime;

use crate::actions::results::staff_only;
use crate::actions::results::take::{LONGEST_TEXT, text};
use crate::actions::turnovers::occupancy;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, TagId, UnitId};
use crate::domain::result::{Deficiency, DeficiencyStatus, EventKind, Origin};
use crate::domain::trade::Severity;
use crate::error::{Error, FieldError, Result};
use crate::store::{Db, Tx, audit, deficiencies, spots};

use super::{happened, summary, times};

/// The longest title, characters.
pub const LONGEST_TITLE: usize = 140;

/// A report as taken down.
#[derive(Debug, Clone)]
pub struct Report {
    /// In which unit.
    pub unit: UnitId,
    /// At which place; none when the resident named none.
    pub tag: Option<TagId>,
    /// What is wrong, in one line.
    pub title: String,
    /// In the resident's words, free text.
    pub detail: String,
    /// How grave; none when nothing was chosen yet.
    pub severity: Option<Severity>,
}

/// Opens a deficiency from a report and answers with its number.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::NotFound`] for a unit or place that may not be seen.
pub fn report(db: &Db, actor: &Actor, now: Now, command: &Report) -> Result<DeficiencyId> {
    db.write(|tx| within(tx, actor, now, now.0, command))
}

/// The same within a transaction that does more. `at` is when it was seen, UTC; the time to correct runs from now all the same.
///
/// # Errors
/// As [`report`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    command: &Report,
) -> Result<DeficiencyId> {
    staff_only(actor)?;
    let (title, detail, severity) = read(command)?;
    let unit = spots::unit(tx, &actor.scope, command.unit)?;
    let fixture = match command.tag {
        None => None,
        Some(tag) => {
            let known = spots::tags_of(tx, unit.id)?;
            if !known.iter().any(|(id, ..)| *id == tag) {
                return Err(Error::not_found("such place in this unit"));
            }
            spots::at_tag(tx, &actor.scope, tag)?.map(|spot| spot.fixture)
        }
    };
    let correct_by =
        times::in_building(tx, unit.building.id)?.correct_by(severity, now.0.and_utc(), unit.building.zone);
    let mut opened = Deficiency {
        id: DeficiencyId(0),
        building: unit.building.id,
        unit: unit.id,
        tag: command.tag,
        fixture,
        part: None,
        check: None,
        result: None,
        origin: Origin::Report,
        title,
        detail,
        severity,
        own_severity: severity,
        opened_at: at,
        correct_by: correct_by.map(|by| by.naive_utc()),
        assignee: None,
        vendor: String::new(),
        status: DeficiencyStatus::Open,
        repaired_at: None,
        parts_used: String::new(),
        minutes: None,
        cost_minor: None,
        closed_at: None,
        closed_how: None,
        repeats: None,
    };
    opened.id = deficiencies::insert(tx, &opened)?;
    let words = format!("Reported: {}", opened.title);
    happened(tx, actor, at, &opened, (EventKind::Opened, words, None))?;
    let subject = audit::Subject {
        kind: "deficiency",
        id: opened.id.0,
    };
    audit::note(
        tx,
        actor,
        now,
        "deficiency_opened",
        subject,
        &(),
        &summary(&opened),
    )?;
    occupancy::settle(tx, actor, now, [opened.unit])?;
    Ok(opened.id)
}

fn read(command: &Report) -> Result<(String, String, Severity)> {
    let mut errors = Vec::new();
    let title = text(&command.title).replace(['\n', '\t'], " ");
    let detail = text(&command.detail);
    if title.is_empty() {
        errors.push(FieldError::new(
            "title",
            "What is wrong: fill this in, such as “Water under the kitchen sink”.",
        ));
    }
    let lengths = [
        ("title", title.chars().count(), LONGEST_TITLE),
        ("detail", detail.chars().count(), LONGEST_TEXT),
    ];
    for (field, length, most) in lengths {
        if length > most {
            errors.push(FieldError::new(
                field,
                format!("{length} characters are too many here. Keep it to {most}."),
            ));
        }
    }
    match command.severity {
        Some(severity) if errors.is_empty() => Ok((title, detail, severity)),
        Some(_) => Err(Error::Fields(errors)),
        None => {
            errors.push(FieldError::new(
                "severity",
                "How grave: choose one. When in doubt take the graver one.",
            ));
            Err(Error::Fields(errors))
        }
    }
}
