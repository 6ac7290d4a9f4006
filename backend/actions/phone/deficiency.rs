//! Takes what a phone says about what is wrong: a repair, a word, something else that was seen. Each does what its page does, at the time
//! at which it was done.

use super::place::found;
use super::taking::{Done, Taking};
use crate::actions::deficiencies::{
    Recheck, Rechecked, Repaired, Report, recheck, repaired as mend, report as tell,
};
use crate::domain::code::Coded as _;
use crate::domain::register::{DeficiencyId, TagId};
use crate::domain::result::{Outcome, missed_reason};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Repaired as WireRepaired, Report as WireReport, Sent, State, Told, Word};
use crate::store::{Tx, deficiencies, results};

/// How grave something is that nobody judged: the manager judges it when it is read.
const UNJUDGED: Severity = Severity::Moderate;

pub(super) fn repaired(
    tx: &mut Tx<'_>,
    taking: &Taking<'_>,
    sent: &Sent,
    one: &WireRepaired,
) -> Result<Done> {
    let deficiency = match (one.deficiency, one.of) {
        (Some(id), _) => DeficiencyId(id),
        (None, Some(of)) => {
            let known = results::by_client_ids(tx, &[of])?.remove(&of);
            let opened = match known {
                Some((result, entry)) if taking.actor.scope.sees(entry.building) => {
                    deficiencies::of_result(tx, result)?
                }
                _ => None,
            };
            opened.ok_or_else(|| {
                Error::refused(
                    "Nothing stands as deficient that this repair was for. The manager sees what was noted.",
                )
            })?
        }
        (None, None) => return Err(Error::not_found("such deficiency")),
    };
    let command = Repaired {
        deficiency,
        parts_used: one.parts.clone(),
        minutes: one.minutes.as_ref().map_or_else(String::new, ToString::to_string),
        cost: String::new(),
        note: one.note.clone(),
    };
    mend::within(tx, taking.actor, taking.now, taking.done_at(sent), &command)?;
    Ok(Done::Taken(Told::new(sent.id, State::Kept)))
}

pub(super) fn word(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &Word) -> Result<Done> {
    let outcome = Outcome::from_code(&one.outcome).map_err(Error::refused)?;
    let id = DeficiencyId(one.deficiency);
    let command = Recheck {
        deficiency: id,
        client_id: sent.id,
        outcome: Some(outcome),
        reading: String::new(),
        reason: if outcome == Outcome::NotChecked {
            missed_reason(&one.reason, "")
        } else {
            String::new()
        },
        note: one.note.clone(),
    };
    let said = recheck::within(tx, taking.actor, taking.now, taking.done_at(sent), &command)?;
    let mut told = Told::new(sent.id, State::Kept);
    if said == Rechecked::Closed {
        told.closed.push(id.0);
    }
    Ok(Done::Taken(told))
}

pub(super) fn report(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &WireReport) -> Result<Done> {
    let unit = taking.unit.ok_or_else(|| Error::not_found("such unit"))?;
    let severity = match one.severity.as_str() {
        "" => UNJUDGED,
        code => Severity::from_code(code).map_err(Error::refused)?,
    };
    let command = Report {
        unit,
        tag: one.place.map(TagId),
        title: one.title.clone(),
        detail: one.note.clone(),
        severity: Some(severity),
    };
    let opened = tell::within(tx, taking.actor, taking.now, taking.done_at(sent), &command)?;
    if let Some(turnover) = crate::store::turnovers::open_of_unit(tx, unit)? {
        crate::actions::turnovers::items::keep_after(tx, taking.now, turnover.id)?;
    }
    let one = found(deficiencies::find(tx, &taking.actor.scope, opened))?;
    Ok(Done::Taken(Told {
        opened: one.iter().map(|one| one.id.0).collect(),
        ..Told::new(sent.id, State::Kept)
    }))
}
