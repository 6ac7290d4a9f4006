//! Closes a turnover with a signed name, and keeps its record: the bytes of a printable page with their SHA-256, which never change.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::NaiveDateTime;

use super::advance::refusal;
use super::paper::{self, Closing};
use super::{items, must_be_open, note, occupancy, staff};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::typed::Typed;
use crate::domain::register::{CheckId, TurnoverId};
use crate::domain::trade::Check;
use crate::domain::turnover::{Stage, Turnover};
use crate::error::{Error, Result};
use crate::exchange::paper as printed;
use crate::store::documents::{self, Document, DocumentKind, NewDocument};
use crate::store::lists::turnovers::{Survey, Surveyor};
use crate::store::{Db, Tx, checks, deficiencies, due, turnovers};

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
    let kept = keep_record(tx, actor, now, &survey, &after)?;
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

fn keep_record(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    survey: &Survey,
    closed: &Turnover,
) -> Result<Document> {
    let number = documents::next_number(tx, closed.building, DocumentKind::Turnover)?;
    let earlier = earlier_versions(tx, survey)?;
    let wrong = deficiencies::closed_in_since(tx, closed.unit, closed.opened_at)?;
    let closing = Closing {
        survey,
        closed,
        number,
        closed_by: &actor.name,
        put_right: &wrong,
        earlier: &earlier,
    };
    let bytes = printed::html(&paper::compose(&closing));
    let new = NewDocument {
        kind: DocumentKind::Turnover,
        building: closed.building,
        turnover: Some(closed.id),
        number,
        as_of: survey.today,
        media_type: printed::MEDIA_TYPE,
        file_name: &format!(
            "turnover-{}-{number}.html",
            survey.building.facts.code.to_lowercase()
        ),
        bytes: &bytes,
        issued_at: now.0,
        issued_by: actor.person,
    };
    documents::insert(tx, &new)
}

/// The procedures of answers that were given to an earlier version than today's.
fn earlier_versions(tx: &mut Tx<'_>, survey: &Survey) -> Result<HashMap<(CheckId, i64), Arc<Check>>> {
    let mut found = HashMap::new();
    for item in &survey.list.items {
        for answer in &item.answers {
            let version = answer.entry.check_version;
            if version == i64::from(item.check.version) || found.contains_key(&(item.key.check, version)) {
                continue;
            }
            let number = u32::try_from(version).map_err(Error::internal)?;
            if let Some(check) = checks::by_version(tx, item.key.check, number)? {
                found.insert((item.key.check, version), check);
            }
        }
    }
    Ok(found)
}
