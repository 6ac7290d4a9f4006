//! Closes a visit on which nobody got in. Each check that was not answered on it gets the result "not checked" with the reason: proof of
//! the attempt, which satisfies nothing.

use std::collections::HashSet;

use chrono::NaiveDateTime;
use uuid::Uuid;

use super::{note, planned, staff_only, text};
use crate::actions::results::{Answer, RecordResults, record};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{CheckId, FixtureId, Service as Standing, VisitId};
use crate::domain::result::Outcome;
use crate::domain::trade::PartKind;
use crate::domain::visit::{Service, Visit, VisitStatus, no_access_reason};
use crate::error::{Error, Result};
use crate::language;
use crate::store::{Db, Tx, checks, results, spots, units, visits};

/// An attempt.
#[derive(Debug, Clone, Default)]
pub struct NoAccess {
    /// Code of a reason that is offered, or empty.
    pub offered: String,
    /// Free text, or empty.
    pub text: String,
}

/// Closes a visit as an attempt.
///
/// # Errors
/// When no reason is given, the day has not come, the visit is closed already, or there is no such visit.
pub fn no_access(db: &Db, actor: &Actor, now: Now, id: VisitId, command: &NoAccess) -> Result<()> {
    db.write(|tx| within(tx, actor, now, now.0, id, command))
}

/// The same within a transaction that does more. `at` is when nobody got in, UTC.
///
/// # Errors
/// As [`no_access`].
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    at: NaiveDateTime,
    id: VisitId,
    command: &NoAccess,
) -> Result<()> {
    staff_only(actor)?;
    let text = text("no_access_text", "The reason", &command.text)?;
    let reason = no_access_reason(&command.offered, &text);
    if reason.is_empty() {
        return Err(Error::field(
            "no_access_reason",
            "No reason is given. Choose one, or say in words why nobody got in.",
        ));
    }
    let before = planned(tx, actor, id)?;
    let (building, _) = units::by_key(tx, &actor.scope, before.unit)?;
    let today = now.date_in(building.facts.time_zone);
    if today < before.on_date {
        return Err(Error::refused(format!(
            "This visit is planned for {}. Say that there was no access on its day, or cancel it.",
            language::day(before.on_date, today)
        )));
    }
    let answers = unanswered(tx, &before, &reason)?;
    let batch = RecordResults {
        answers,
        done_at: (at != now.0).then_some(at),
        visit: Some(id),
        ..RecordResults::default()
    };
    record::within(tx, actor, now, &batch)?;
    let after = Visit {
        status: VisitStatus::NoAccess,
        technician: before.technician.or(actor.person),
        reason,
        closed_at: Some(now.0),
        ..before.clone()
    };
    visits::update(tx, &after)?;
    note(tx, actor, now, "close_visit", Some(&before), &after)
}

/// One "not checked" for each check that the visit serves, that has no result on it and can still be asked there.
fn unanswered(tx: &mut Tx<'_>, visit: &Visit, reason: &str) -> Result<Vec<Answer>> {
    let answered: HashSet<(FixtureId, Option<PartKind>, CheckId)> = results::of_visit(tx, visit.id)?
        .into_iter()
        .map(|(_, entry)| (entry.fixture, entry.part, entry.check))
        .collect();
    let wanted: Vec<_> = visits::services(tx, visit.id)?
        .into_iter()
        .filter_map(|service| match service {
            Service::Check { fixture, part, check } => Some((fixture, part, check)),
            Service::Repair(_) => None,
        })
        .filter(|item| !answered.contains(item))
        .collect();
    let fixtures: Vec<FixtureId> = wanted.iter().map(|(fixture, ..)| *fixture).collect();
    let spots = spots::of_fixtures(tx, &Scope::All, &fixtures)?;
    let parts = spots::parts_in_service(tx, &fixtures)?;
    let mut answers = Vec::new();
    for (fixture, part, id) in wanted {
        let Some(check) = checks::by_id(tx, id)? else {
            continue;
        };
        let stands = spots.get(&fixture).is_some_and(|spot| {
            spot.status == Standing::InService && check.check.is_asked_of(spot.kind, part)
        });
        let has_part = part.is_none_or(|part| parts.get(&fixture).is_some_and(|kinds| kinds.contains(&part)));
        if !stands || !has_part {
            continue;
        }
        answers.push(Answer {
            client_id: Uuid::new_v4(),
            fixture,
            part,
            check: check.check.code.as_str().to_owned(),
            outcome: Some(Outcome::NotChecked),
            reading: String::new(),
            reason: format!("No access: {reason}"),
            note: String::new(),
            done_at: None,
        });
    }
    Ok(answers)
}
