//! Closes a turnover with a signed name, which issues its record.

use chrono::NaiveDateTime;

use super::advance::refusal;
use super::{issue, items, must_be_open, note, occupancy, staff};
use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::domain::register::typed::Typed;
use crate::domain::turnover::{Stage, Turnover};
use crate::error::{Error, Result};
use crate::store::documents::{self, Document};
use crate::store::lists::turnovers::Surveyor;
use crate::store::{Db, Tx, due, turnovers};

/// A turnover to be closed.
#[derive(Debug, Clone)]
pub struct Close {
    /// Which.
    pub turnover: TurnoverId,
    /// The name that signs, as typed.
    pub name: String,
}

/// Closes a turnover and answers with its record. Closing it again in the same name changes nothing.
///
/// # Errors
/// A sentence when there is no name; a refusal with a sentence for each thing that keeps it back, or when it is over.
pub fn close(db: &Db, actor: &Actor, now: Now, command: &Close) -> Result<Document> {
    db.write(|tx| within(tx, actor, now, command, None))
}

/// How a turnover was signed on a phone.
#[derive(Debug, Clone)]
pub struct Signature {
    /// As drawn, an SVG path that was checked; empty when only the name was typed.
    pub path: String,
    /// UTC, corrected by the phone's clock.
    pub signed_at: NaiveDateTime,
}

/// The same within a transaction that does more, signed on a phone or not.
///
/// # Errors
/// As [`close`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    command: &Close,
    signature: Option<&Signature>,
) -> Result<Document> {
    staff(actor)?;
    let mut typed = Typed::new();
    let name = typed.needed("name", "Name", &command.name, 80);
    let name = typed.finish(name).map_err(Error::Fields)?;
    let survey = Surveyor::new(tx, now)?.survey(tx, &actor.scope, command.turnover)?;
    if let Some(kept) = kept_already(tx, &survey.turnover, actor, &name)? {
        return Ok(kept);
    }
    must_be_open(&survey.turnover)?;
    if survey.turnover.stage != Stage::Ready {
        return Err(Error::refused(format!(
            "It is {}, and only a ready unit is closed. Take the steps before it first.",
            survey.turnover.stage.name().to_lowercase()
        )));
    }
    let blocks = survey.blocks();
    if !blocks.is_empty() {
        return Err(Error::refused(refusal(Stage::MovedIn, &blocks)));
    }
    items::keep(tx, &survey)?;
    let after = Turnover {
        stage: Stage::MovedIn,
        closed_at: Some(now.0),
        closed_by: actor.person,
        signed_name: name.clone(),
        signature: signature.map_or_else(String::new, |signature| signature.path.clone()),
        signed_at: signature.map(|signature| signature.signed_at),
        ..survey.turnover.clone()
    };
    turnovers::update(tx, &after)?;
    let kept = issue::issue(tx, actor, now, &survey, &after)?;
    note(tx, actor, now, "close_turnover", Some(&survey.turnover), &after)?;
    let by = survey.today.max(after.facts.move_in_on);
    occupancy::settle_after(tx, actor, now, &after, by)?;
    due::refresh_tenancy(tx, after.unit)?;
    Ok(kept)
}

/// The record of a turnover that the same person closed in the same name.
fn kept_already(tx: &mut Tx<'_>, turnover: &Turnover, actor: &Actor, name: &str) -> Result<Option<Document>> {
    let is_repeat = turnover.stage == Stage::MovedIn
        && turnover.signed_name == name
        && turnover.closed_by == actor.person;
    if is_repeat {
        documents::of_turnover(tx, turnover.id)
    } else {
        Ok(None)
    }
}
