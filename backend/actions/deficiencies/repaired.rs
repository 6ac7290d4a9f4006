//! Notes a repair: parts, minutes, cost. It is right only when a re-check passes; until then it stands as repaired.

use chrono::NaiveDateTime;

use super::{change, must_stand};
use crate::actions::results::staff_only;
use crate::actions::results::take::{LONGEST_TEXT, text};
use crate::clock::Now;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::{Deficiency, DeficiencyStatus, EventKind, Outcome, money};
use crate::error::{Error, FieldError, Result};
use crate::store::{Db, Tx, deficiencies, results};

/// The most minutes of one repair: a working week.
pub const MOST_MINUTES: f64 = 2_400.0;

/// A repair as typed.
#[derive(Debug, Clone)]
pub struct Repaired {
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Parts used, free text; may be empty.
    pub parts_used: String,
    /// Work in minutes; empty when not noted.
    pub minutes: String,
    /// Cost as `84.50`; empty when not noted.
    pub cost: String,
    /// Free text; may be empty.
    pub note: String,
}

struct Read {
    parts_used: String,
    minutes: Option<f64>,
    cost_minor: Option<i64>,
    note: String,
}

/// Notes a repair.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::NotFound`] outside of what the caller may see.
pub fn repaired(db: &Db, actor: &Actor, now: Now, command: &Repaired) -> Result<()> {
    db.write(|tx| within(tx, actor, now, now.0, command))
}

/// The same within a transaction that does more. `at` is when it was repaired, UTC. When its check failed again after that, the repair is
/// noted and the deficiency stays open: of a repair and a failure the later done counts, whichever arrived first.
///
/// # Errors
/// As [`repaired`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    command: &Repaired,
) -> Result<()> {
    staff_only(actor)?;
    let read = read(command)?;
    let before = deficiencies::find(tx, &actor.scope, command.deficiency)?;
    must_stand(&before)?;
    let mut after = before.clone();
    if !failed_since(tx, &before, at)? {
        after.status = DeficiencyStatus::Repaired;
        after.repaired_at = Some(at);
    }
    after.parts_used.clone_from(&read.parts_used);
    after.minutes = read.minutes;
    after.cost_minor = read.cost_minor;
    change(
        tx,
        actor,
        now,
        at,
        (&before, &after),
        (EventKind::Repaired, words(&read)),
    )
}

/// Whether the check that found it failed again after an instant.
fn failed_since(tx: &mut Tx<'_>, one: &Deficiency, at: NaiveDateTime) -> Result<bool> {
    let (Some(tag), Some(check)) = (one.tag, one.check) else {
        return Ok(false);
    };
    let latest = results::latest_from(tx, &[tag], at)?;
    let last = latest.get(&(check, tag, one.part));
    Ok(last.is_some_and(|((done_at, _), outcome)| *done_at > at && *outcome == Outcome::Fail))
}

/// The repair as one line of the history: what the columns hold now may be changed by a second repair.
fn words(read: &Read) -> String {
    let mut said = Vec::new();
    if !read.parts_used.is_empty() {
        said.push(format!("Parts: {}.", read.parts_used));
    }
    if let Some(minutes) = read.minutes {
        said.push(format!("{minutes} min."));
    }
    if let Some(cost) = read.cost_minor {
        said.push(format!("Cost {}.", money::text(cost)));
    }
    if !read.note.is_empty() {
        said.push(read.note.clone());
    }
    if said.is_empty() {
        said.push("Nothing noted of parts, time or cost.".to_owned());
    }
    said.join(" ")
}

fn read(command: &Repaired) -> Result<Read> {
    let mut errors = Vec::new();
    let (parts_used, note) = (text(&command.parts_used), text(&command.note));
    for (field, value) in [("parts_used", &parts_used), ("note", &note)] {
        let length = value.chars().count();
        if length > LONGEST_TEXT {
            let sentence = format!("{length} characters are too many here. Keep it to {LONGEST_TEXT}.");
            errors.push(FieldError::new(field, sentence));
        }
    }
    let minutes = match command.minutes.trim() {
        "" => None,
        typed => match typed.parse::<f64>() {
            Ok(minutes) if (0.0..=MOST_MINUTES).contains(&minutes) => Some(minutes),
            _ => {
                let sentence = format!(
                    "“{typed}” is no time of work. Write minutes from 0 to {MOST_MINUTES}, such as 35."
                );
                errors.push(FieldError::new("minutes", sentence));
                None
            }
        },
    };
    let cost_minor = match command.cost.trim() {
        "" => None,
        typed => match money::parse(typed) {
            Ok(cost) => Some(cost),
            Err(sentence) => {
                errors.push(FieldError::new("cost", sentence));
                None
            }
        },
    };
    if errors.is_empty() {
        Ok(Read {
            parts_used,
            minutes,
            cost_minor,
            note,
        })
    } else {
        Err(Error::Fields(errors))
    }
}
