//! Looks again at what was wrong. Where a check found it and can still be asked there, the answer is a result like any other and does
//! what results do; a report, or a check that nothing there is asked any more, is closed by what the person says was seen.

use chrono::NaiveDateTime;
use uuid::Uuid;

use super::{change, happened, must_stand};
use crate::actions::results::record::{self, Answer, RecordResults};
use crate::actions::results::staff_only;
use crate::actions::results::take::{LONGEST_TEXT, text};
use crate::clock::Now;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::{ClosedHow, Deficiency, DeficiencyStatus, EventKind, Outcome};
use crate::domain::trade::Check;
use crate::error::{Error, FieldError, Result};
use crate::store::spots::{self, Spot};
use crate::store::{AnyConnection, Db, Tx, checks, deficiencies};

/// A re-check as given.
#[derive(Debug, Clone)]
pub struct Recheck {
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Made by whoever records; a repeat changes nothing.
    pub client_id: Uuid,
    /// The bar that was chosen; none when the reading decides.
    pub outcome: Option<Outcome>,
    /// As typed; empty when none was.
    pub reading: String,
    /// Why it was not checked; empty otherwise.
    pub reason: String,
    /// Free text.
    pub note: String,
}

/// What became of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rechecked {
    /// Closed.
    Closed,
    /// Failed again; it stands as open.
    FailedAgain,
    /// Nobody could look; it stands as it was.
    NotChecked,
}

/// The check to ask again and what stands there now; none when nothing there is asked it.
///
/// # Errors
/// When the database does not answer.
pub fn asks(
    conn: &mut AnyConnection,
    actor: &Actor,
    one: &Deficiency,
) -> Result<Option<(Spot, std::sync::Arc<Check>)>> {
    let (Some(tag), Some(check)) = (one.tag, one.check) else {
        return Ok(None);
    };
    let Some(spot) = spots::at_tag(conn, &actor.scope, tag)? else {
        return Ok(None);
    };
    let Some(stored) = checks::by_id(conn, check)? else {
        return Ok(None);
    };
    let parts = spots::parts_in_service(conn, &[spot.fixture])?;
    let fitted = parts.get(&spot.fixture).map_or(&[][..], Vec::as_slice);
    Ok(one
        .is_asked_again(&stored.check, spot.kind, fitted)
        .then_some((spot, stored.check)))
}

/// Re-checks a deficiency.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::NotFound`] outside of what the caller may see; a refusal when it is closed.
pub fn recheck(db: &Db, actor: &Actor, now: Now, command: &Recheck) -> Result<Rechecked> {
    db.write(|tx| within(tx, actor, now, now.0, command))
}

/// The same within a transaction that does more. `at` is when somebody looked, UTC.
///
/// # Errors
/// As [`recheck`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    command: &Recheck,
) -> Result<Rechecked> {
    staff_only(actor)?;
    let one = deficiencies::find(tx, &actor.scope, command.deficiency)?;
    match asks(tx, actor, &one)? {
        Some((spot, check)) => by_result(tx, actor, now, at, command, (&spot, &check, &one)),
        None => {
            must_stand(&one)?;
            by_word(tx, actor, now, at, command, &one)
        }
    }
}

fn by_result(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    command: &Recheck,
    (spot, check, one): (&Spot, &Check, &Deficiency),
) -> Result<Rechecked> {
    let answer = Answer {
        client_id: command.client_id,
        fixture: spot.fixture,
        part: one.part,
        check: check.code.to_string(),
        outcome: command.outcome,
        reading: command.reading.clone(),
        reason: command.reason.clone(),
        note: command.note.clone(),
        done_at: (at != now.0).then_some(at),
    };
    let there = crate::store::results::by_client_ids(tx, &[command.client_id])?;
    if there.is_empty() {
        must_stand(one)?;
    }
    let batch = RecordResults {
        answers: vec![answer],
        ..RecordResults::default()
    };
    let recorded = record::within(tx, actor, now, &batch).map_err(on_the_form)?;
    let after = deficiencies::find(tx, &actor.scope, one.id)?;
    Ok(match (after.status, command.outcome) {
        (DeficiencyStatus::Closed, _) => Rechecked::Closed,
        (_, Some(Outcome::NotChecked)) => {
            if let Some(result) = recorded.results.first() {
                let words = format!("Could not be re-checked: {}", text(&command.reason));
                happened(tx, actor, at, &after, (EventKind::Missed, words, Some(*result)))?;
            }
            Rechecked::NotChecked
        }
        _ => Rechecked::FailedAgain,
    })
}

/// A refusal named by the answer's id belongs to the one answer of this form.
fn on_the_form(error: Error) -> Error {
    match error {
        Error::Fields(errors) => Error::Fields(
            errors
                .into_iter()
                .map(|error| FieldError::new("answer", error.message))
                .collect(),
        ),
        other => other,
    }
}

fn by_word(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    command: &Recheck,
    before: &Deficiency,
) -> Result<Rechecked> {
    let (note, reason) = (text(&command.note), text(&command.reason));
    if note.chars().count() > LONGEST_TEXT || reason.chars().count() > LONGEST_TEXT {
        return Err(Error::field(
            "note",
            format!("One text is too long. Keep it to {LONGEST_TEXT} characters."),
        ));
    }
    let mut after = before.clone();
    match command.outcome {
        None => Err(Error::field(
            "answer",
            "Nothing was answered. Say whether it is right now, or why it could not be checked.",
        )),
        Some(Outcome::NotChecked) if reason.is_empty() => Err(Error::field(
            "answer",
            "It was not checked, and no reason is given. Say why it could not be checked.",
        )),
        Some(Outcome::NotChecked) => {
            let words = format!("Could not be re-checked: {reason}");
            happened(tx, actor, at, before, (EventKind::Missed, words, None))?;
            Ok(Rechecked::NotChecked)
        }
        Some(Outcome::Fail) => {
            after.status = DeficiencyStatus::Open;
            after.repaired_at = None;
            change(
                tx,
                actor,
                now,
                at,
                (before, &after),
                (EventKind::FailedAgain, said("Still wrong.", &note)),
            )?;
            Ok(Rechecked::FailedAgain)
        }
        Some(Outcome::Pass) => {
            let how = closed_how(tx, actor, before)?;
            after.status = DeficiencyStatus::Closed;
            after.closed_at = Some(at);
            after.closed_how = Some(how);
            let words = said("Looked at again and right.", &note);
            happened(tx, actor, at, before, (EventKind::RecheckPassed, words, None))?;
            change(
                tx,
                actor,
                now,
                at,
                (before, &after),
                (EventKind::Closed, format!("{}.", how.name())),
            )?;
            Ok(Rechecked::Closed)
        }
    }
}

/// Replaced when another fixture stands at the place than the one it was found on.
fn closed_how(tx: &mut Tx<'_>, actor: &Actor, one: &Deficiency) -> Result<ClosedHow> {
    let Some(tag) = one.tag else {
        return Ok(ClosedHow::Recheck);
    };
    let now_there = spots::at_tag(tx, &actor.scope, tag)?.map(|spot| spot.fixture);
    Ok(match (one.fixture, now_there) {
        (Some(then), Some(now)) if then != now => ClosedHow::Replaced,
        _ => ClosedHow::Recheck,
    })
}

fn said(what: &str, note: &str) -> String {
    if note.is_empty() {
        what.to_owned()
    } else {
        format!("{what} {note}")
    }
}
