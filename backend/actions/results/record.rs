//! Records a batch of answers in one transaction: all of them, or nothing and a sentence for each that can't be taken.
//!
//! An answer is known by its client id. One that is there already with the same content changes nothing, so a form sent twice or a
//! command run again records once; the same id with another content is refused.

use std::collections::{BTreeSet, HashMap, HashSet};

use chrono::NaiveDateTime;
use uuid::Uuid;

use super::follow_ups::Ledger;
use super::staff_only;
use super::take::{self, Taken};
use crate::actions::turnovers::occupancy;
use crate::clock::Now;
use crate::domain::register::fixture::Service;
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, FixtureId, ResultId, TurnoverId, UnitId, VisitId};
use crate::domain::result::{Entry, Outcome};
use crate::domain::trade::{PartKind, TurnoverStage};
use crate::error::{Error, FieldError, Result};
use crate::store::{Db, Tx, audit, checks, due, results};

/// One answer as given.
#[derive(Debug, Clone)]
pub struct Answer {
    /// Made by whoever records; also names the answer in refusals.
    pub client_id: Uuid,
    /// Which fixture.
    pub fixture: FixtureId,
    /// Which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Code of the check.
    pub check: String,
    /// The bar that was chosen; none when the reading decides.
    pub outcome: Option<Outcome>,
    /// As typed; empty when none was.
    pub reading: String,
    /// Why it was not checked; empty otherwise.
    pub reason: String,
    /// Free text.
    pub note: String,
    /// UTC; none for the time of the batch.
    pub done_at: Option<NaiveDateTime>,
}

/// A batch of answers.
#[derive(Debug, Clone, Default)]
pub struct RecordResults {
    /// The answers, in the order in which they were given.
    pub answers: Vec<Answer>,
    /// UTC; none for the time of receipt.
    pub done_at: Option<NaiveDateTime>,
    /// Recorded in which turnover, for which of its stages.
    pub turnover: Option<(TurnoverId, TurnoverStage)>,
    /// Recorded on which visit.
    pub visit: Option<VisitId>,
    /// JSON of what was measured beyond a reading, by the client id of the answer it belongs to.
    pub details: HashMap<Uuid, String>,
    /// The version of the procedure that was asked, by the client id of the answer; today's for those not named. A phone may have fetched
    /// its checklist before a check was changed: the answer is judged by what was asked.
    pub versions: HashMap<Uuid, u32>,
    /// Whether answers about a fixture that is gone are taken.
    pub gone: Gone,
}

/// Whether answers about a fixture that no longer stands are taken.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Gone {
    /// They are refused: what stands there now is looked at instead.
    #[default]
    Refused,
    /// One that was done while it stood is a fact and is kept, and nothing follows from it: what was wrong went with the fixture.
    Kept,
}

impl RecordResults {
    /// What was measured beyond a reading for an answer; empty when nothing was.
    #[must_use]
    pub fn detail(&self, answer: &Answer) -> &str {
        self.details.get(&answer.client_id).map_or("", String::as_str)
    }
}

/// What was done with a batch.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Recorded {
    /// The results that are new, in the order in which they were done.
    pub results: Vec<ResultId>,
    /// How many answers were there already, unchanged.
    pub already: usize,
    /// When the batch was received; of a repeat, when it was first. UTC.
    pub received_at: NaiveDateTime,
    /// The deficiencies it opened.
    pub opened: Vec<DeficiencyId>,
    /// Those that failed again.
    pub added_to: Vec<DeficiencyId>,
    /// Those it closed.
    pub closed: Vec<DeficiencyId>,
}

/// Records answers: rows inserted by client id at most once, deficiencies opened, added to and closed, due rows refreshed, audited.
///
/// # Errors
/// [`Error::Fields`] with a sentence for each answer that can't be taken, its client id as the field; [`Error::NotFound`] for a
/// fixture that may not be seen; [`Error::Conflict`] for a client id with another content; then nothing was written.
pub fn record(db: &Db, actor: &Actor, now: Now, command: &RecordResults) -> Result<Recorded> {
    staff_only(actor)?;
    db.write(|tx| within(tx, actor, now, command))
}

/// The same within a transaction that does more.
///
/// # Errors
/// As [`record`].
pub(crate) fn within(tx: &mut Tx<'_>, actor: &Actor, now: Now, command: &RecordResults) -> Result<Recorded> {
    each_id_once(&command.answers)?;
    let ids: Vec<Uuid> = command.answers.iter().map(|answer| answer.client_id).collect();
    let there = results::by_client_ids(tx, &ids)?;
    let mut fresh = Vec::new();
    let mut recorded = Recorded {
        received_at: now.0,
        ..Recorded::default()
    };
    for answer in &command.answers {
        match there.get(&answer.client_id) {
            None => fresh.push(answer),
            Some((_, entry)) => {
                unchanged(tx, answer, command, entry, actor)?;
                recorded.already += 1;
                recorded.received_at = recorded.received_at.min(entry.received_at);
            }
        }
    }
    if fresh.is_empty() {
        return Ok(recorded);
    }
    recorded.received_at = now.0;
    let mut taken = take::take(tx, actor, now, command, &fresh)?;
    taken.sort_by_key(|taken| taken.entry.turn());
    let mut ledger = Ledger::open(tx, actor, now, &taken)?;
    for one in &taken {
        let result = results::append(tx, &one.entry)?;
        recorded.results.push(result);
        if one.spot.status == Service::InService {
            ledger.follow(tx, one, result, &mut recorded)?;
        }
    }
    let fixtures: BTreeSet<FixtureId> = taken.iter().map(|taken| taken.entry.fixture).collect();
    due::refresh_fixtures(tx, &fixtures.into_iter().collect::<Vec<_>>())?;
    note(tx, actor, now, &taken, &recorded)?;
    let units: BTreeSet<UnitId> = taken.iter().map(|taken| taken.entry.unit).collect();
    occupancy::settle(tx, actor, now, units)?;
    Ok(recorded)
}

fn each_id_once(answers: &[Answer]) -> Result<()> {
    let mut ids = HashSet::new();
    let twice: Vec<FieldError> = answers
        .iter()
        .filter(|answer| !ids.insert(answer.client_id))
        .map(|answer| {
            let id = answer.client_id;
            FieldError::new(
                id.to_string(),
                format!("The id {id} stands on two answers. Give each answer an id of its own."),
            )
        })
        .collect();
    if twice.is_empty() {
        Ok(())
    } else {
        Err(Error::Fields(twice))
    }
}

/// Whether what is there under the client id says the same. Whose result it is is told only to who may see it.
fn unchanged(
    tx: &mut Tx<'_>,
    answer: &Answer,
    command: &RecordResults,
    entry: &Entry,
    actor: &Actor,
) -> Result<()> {
    let done_at = answer.done_at.or(command.done_at);
    let asked = checks::by_code(tx, &answer.check)?;
    let same = entry.fixture == answer.fixture
        && asked.is_some_and(|asked| asked.id == entry.check)
        && entry.part == answer.part
        && answer.outcome.is_none_or(|outcome| outcome == entry.outcome)
        && entry.reading == answer.reading.trim()
        && entry.note == take::text(&answer.note)
        && command
            .details
            .get(&answer.client_id)
            .is_none_or(|detail| *detail == entry.detail)
        && (entry.outcome != Outcome::NotChecked || entry.reason == take::text(&answer.reason))
        && done_at.is_none_or(|done_at| done_at.min(entry.received_at) == entry.done_at);
    if same {
        return Ok(());
    }
    let id = answer.client_id;
    Err(Error::Conflict(if actor.scope.sees(entry.building) {
        format!(
            "The id {id} is already a result: {} on {}. It stays as it is; record what is new under a new id.",
            entry.outcome, entry.done_on
        )
    } else {
        format!("The id {id} is already taken. Record under a new id.")
    }))
}

fn note(tx: &mut Tx<'_>, actor: &Actor, now: Now, taken: &[Taken], recorded: &Recorded) -> Result<()> {
    let keys = |ids: &[DeficiencyId]| ids.iter().map(|id| id.0).collect::<Vec<_>>();
    let after = serde_json::json!({
        "results": recorded.results.iter().map(|id| id.0).collect::<Vec<_>>(),
        "opened": keys(&recorded.opened),
        "failed_again": keys(&recorded.added_to),
        "closed": keys(&recorded.closed),
    });
    let units: BTreeSet<_> = taken.iter().map(|taken| taken.entry.unit).collect();
    for unit in units {
        let subject = audit::Subject {
            kind: "unit",
            id: unit.0,
        };
        audit::note(tx, actor, now, "record_results", subject, &(), &after)?;
    }
    Ok(())
}
