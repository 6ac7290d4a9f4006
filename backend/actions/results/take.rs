//! Takes answers one by one: finds the fixture and the check, judges, settles the time. Writes nothing; a refusal names the place and
//! the check, so that the sentence stands by itself.

use std::collections::HashMap;

use chrono::NaiveDate;
use uuid::Uuid;

use super::record::{Answer, Gone, RecordResults};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::fixture::Service;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, UnitId};
use crate::domain::result::{self, Entry, Given, Place};
use crate::domain::trade::{PartKind, asked};
use crate::error::{Error, FieldError, Result};
use crate::store::checks::StoredCheck;
use crate::store::spots::{self, Spot};
use crate::store::{Tx, checks, fixtures, results};

/// The longest note or reason, characters.
pub const LONGEST_TEXT: usize = 2_000;

/// An answer that can be kept, with what it was judged by.
#[derive(Debug, Clone)]
pub struct Taken {
    /// As it will be kept.
    pub entry: Entry,
    /// Where.
    pub spot: Spot,
    /// By which check.
    pub check: StoredCheck,
}

/// Free text as it is kept: trimmed, line ends as one kind, without characters that nobody typed.
pub(crate) fn text(given: &str) -> String {
    given
        .trim()
        .replace("\r\n", "\n")
        .chars()
        .filter(|c| !c.is_control() || matches!(c, '\n' | '\t'))
        .collect()
}

/// Takes the answers, or refuses the batch with a sentence for each that can't be taken.
pub(super) fn take(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    command: &RecordResults,
    answers: &[&Answer],
) -> Result<Vec<Taken>> {
    let fixtures: Vec<FixtureId> = answers.iter().map(|answer| answer.fixture).collect();
    let spots = spots::of_fixtures(tx, &actor.scope, &fixtures)?;
    let parts = spots::parts_in_service(tx, &fixtures)?;
    let checks = stored_checks(tx, command, answers)?;
    let until = last_days(tx, command, &spots)?;
    let mut taken = Vec::with_capacity(answers.len());
    let mut errors = Vec::new();
    for answer in answers {
        let spot = spots
            .get(&answer.fixture)
            .ok_or_else(|| Error::not_found("such fixture"))?;
        let parts = parts.get(&answer.fixture).map_or(&[][..], Vec::as_slice);
        match one(answer, command, now, spot, parts, &checks, &until) {
            Ok((entry, check)) => taken.push(Taken {
                entry: Entry {
                    person: actor.person,
                    ..entry
                },
                spot: spot.clone(),
                check,
            }),
            Err(sentence) => errors.push(FieldError::new(answer.client_id.to_string(), sentence)),
        }
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    belongs(tx, command, &taken)?;
    Ok(taken)
}

/// The checks as they were asked, by the answer. A version that nobody knows is read as today's.
fn stored_checks(
    tx: &mut Tx<'_>,
    command: &RecordResults,
    answers: &[&Answer],
) -> Result<HashMap<Uuid, StoredCheck>> {
    let all = checks::load_all(tx)?;
    let all: HashMap<&str, &StoredCheck> = all
        .iter()
        .map(|stored| (stored.check.code.as_str(), stored))
        .collect();
    let mut asked = HashMap::new();
    for answer in answers {
        let Some(&stored) = all.get(answer.check.trim()) else {
            continue;
        };
        let mut stored = stored.clone();
        let version = command.versions.get(&answer.client_id);
        if let Some(version) = version.filter(|version| **version != stored.check.version)
            && let Some(check) = checks::by_version(tx, stored.id, *version)?
        {
            stored.check = check;
        }
        asked.insert(answer.client_id, stored);
    }
    Ok(asked)
}

/// The last local day of the fixtures among these that are gone, when answers about such are taken.
fn last_days(
    tx: &mut Tx<'_>,
    command: &RecordResults,
    spots: &HashMap<FixtureId, Spot>,
) -> Result<HashMap<FixtureId, NaiveDate>> {
    let mut days = HashMap::new();
    if command.gone == Gone::Kept {
        let gone = spots.values().filter(|spot| spot.status != Service::InService);
        for spot in gone {
            if let Some(day) = fixtures::stood_until(tx, spot.fixture)? {
                days.insert(spot.fixture, day);
            }
        }
    }
    Ok(days)
}

/// The place as a refusal names it: "204 WC-1".
fn place(spot: &Spot) -> String {
    format!("{} {}", spot.unit.label, spot.tag_label)
}

fn one(
    answer: &Answer,
    command: &RecordResults,
    now: Now,
    spot: &Spot,
    parts: &[PartKind],
    checks: &HashMap<Uuid, StoredCheck>,
    until: &HashMap<FixtureId, NaiveDate>,
) -> Result<(Entry, StoredCheck), String> {
    let code = answer.check.trim();
    let stored = checks.get(&answer.client_id).ok_or_else(|| {
        format!("There is no check “{code}”. The page of checks lists those there are, with their codes.")
    })?;
    let until = until.get(&spot.fixture).copied();
    is_asked(answer, spot, parts, stored, until)?;
    let about = |sentence: String| format!("{}, {}: {sentence}.", place(spot), stored.check.title);
    let (reading, reason, note) = (answer.reading.trim(), text(&answer.reason), text(&answer.note));
    if let Some(long) = [&reason, &note]
        .iter()
        .map(|text| text.chars().count())
        .find(|length| *length > LONGEST_TEXT)
    {
        return Err(about(format!(
            "{long} characters are too many for one text; keep it to {LONGEST_TEXT}"
        )));
    }
    let given = Given {
        outcome: answer.outcome,
        reading,
        reason: &reason,
        note: &note,
    };
    let judged = result::judge(&stored.check, &given, &spot.unit.building.context())
        .map_err(|refusal| about(refusal.to_string()))?;
    let place = Place {
        zone: spot.unit.building.zone,
        joined_on: spot.unit.building.joined_on,
        stood_from: spot.stood_from,
    };
    let done_at = answer.done_at.or(command.done_at).unwrap_or(now.0);
    let settled = result::settle(done_at, now.0, &place).map_err(|refusal| about(refusal.to_string()))?;
    if let Some(until) = until.filter(|until| settled.done_on > *until) {
        let gone = spot.status.name().to_lowercase();
        return Err(about(format!(
            "it was {gone} on {until}, and this was done on {}; record on what stands there now",
            settled.done_on
        )));
    }
    let entry = Entry {
        client_id: answer.client_id,
        building: spot.unit.building.id,
        unit: spot.unit.id,
        tag: spot.tag,
        fixture: spot.fixture,
        part: answer.part,
        check: stored.id,
        check_version: i64::from(stored.check.version),
        outcome: judged.outcome,
        reason: judged.reason,
        reading: judged.reading,
        note,
        done_at: settled.done_at,
        done_on: settled.done_on,
        received_at: now.0,
        person: None,
        turnover: command.turnover,
        visit: command.visit,
        asked: asked::line(&stored.check, &spot.unit.building.profile),
        detail: command.detail(answer).to_owned(),
    };
    Ok((entry, stored.clone()))
}

/// Whether the check is asked of what stands there.
fn is_asked(
    answer: &Answer,
    spot: &Spot,
    parts: &[PartKind],
    stored: &StoredCheck,
    until: Option<NaiveDate>,
) -> Result<(), String> {
    let (place, check) = (place(spot), &stored.check);
    if until.is_some() && check.is_asked_of(spot.kind, answer.part) {
        // Its parts went with it, so none is on record any more.
        return Ok(());
    }
    if spot.status != Service::InService {
        return Err(format!(
            "{place} is {}, so nothing more is recorded on it. Record on what stands there now.",
            spot.status.name().to_lowercase()
        ));
    }
    if let Some(part) = answer.part
        && check.parts.contains(&part)
        && check.kinds.contains(&spot.kind)
        && !parts.contains(&part)
    {
        return Err(format!(
            "{place} has no {} on record. Add the part first, or leave this check out.",
            part.name().to_lowercase()
        ));
    }
    if check.is_asked_of(spot.kind, answer.part) {
        return Ok(());
    }
    let of = match answer.part {
        None if check.kinds.contains(&spot.kind) => {
            let parts: Vec<_> = check.parts.iter().map(|part| part.code()).collect();
            return Err(format!(
                "{place}: the check “{}” is asked of a part. Name it: {}.",
                check.code,
                parts.join(", ")
            ));
        }
        None => format!("a {}", spot.kind.name().to_lowercase()),
        Some(part) => format!(
            "the {} of a {}",
            part.name().to_lowercase(),
            spot.kind.name().to_lowercase()
        ),
    };
    Err(format!(
        "{place}: the check “{}” is not asked of {of}. Choose one that is.",
        check.code
    ))
}

/// Whether the turnover and the visit of the batch are of the unit of every answer, and the turnover is open.
fn belongs(tx: &mut Tx<'_>, command: &RecordResults, taken: &[Taken]) -> Result<()> {
    let all_in = |unit: UnitId| taken.iter().all(|taken| taken.entry.unit == unit);
    if let Some((turnover, _)) = command.turnover {
        let (unit, stage) = results::turnover_at(tx, turnover)?
            .filter(|(unit, _)| all_in(*unit))
            .ok_or_else(|| Error::not_found("such turnover of this unit"))?;
        if matches!(stage.as_str(), "moved_in" | "cancelled") {
            tracing::debug!(%unit, %turnover, "turnover closed");
            return Err(Error::refused(
                "This turnover is closed, and its record stays as it was signed. Record on the unit's own page instead.",
            ));
        }
    }
    if let Some(visit) = command.visit {
        let (_, status) = results::visit_at(tx, visit)?
            .filter(|(unit, _)| all_in(*unit))
            .ok_or_else(|| Error::not_found("such visit of this unit"))?;
        if status == "cancelled" {
            return Err(Error::refused(
                "This visit was cancelled. Make a new one, or record on the unit's own page.",
            ));
        }
    }
    Ok(())
}
