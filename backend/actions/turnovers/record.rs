//! Records answers of a walk: results like any other, each for a stage of its turnover, all of them or none.

use std::collections::BTreeMap;

use chrono::NaiveDateTime;

use super::{items, staff};
use crate::actions::results::{self, RecordResults, Recorded};
use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::domain::trade::TurnoverStage;
use crate::domain::turnover::Item;
use crate::error::Result;
use crate::store::Db;
use crate::store::lists::turnovers::{Survey, Surveyor};

/// An answer with the stage it is for.
#[derive(Debug, Clone)]
pub struct StagedAnswer {
    /// What was seen.
    pub answer: results::Answer,
    /// For which stage; none for the one in which the checklist asks for it first and has no answer yet.
    pub stage: Option<TurnoverStage>,
}

/// Answers of a walk.
#[derive(Debug, Clone)]
pub struct Record {
    /// In which turnover.
    pub turnover: TurnoverId,
    /// The answers, in the order in which they were given.
    pub answers: Vec<StagedAnswer>,
    /// UTC; none for the time of receipt.
    pub done_at: Option<NaiveDateTime>,
}

/// Records answers. A repeat with the same client ids changes nothing.
///
/// # Errors
/// As `results::record`; a refusal when the turnover is over.
pub fn record(db: &Db, actor: &Actor, now: Now, command: &Record) -> Result<Recorded> {
    staff(actor)?;
    db.write(|tx| {
        let survey = Surveyor::new(tx, now)?.survey(tx, &actor.scope, command.turnover)?;
        let mut batches: BTreeMap<TurnoverStage, Vec<results::Answer>> = BTreeMap::new();
        for given in &command.answers {
            let stage = given.stage.unwrap_or_else(|| stage_of(&survey, &given.answer));
            batches.entry(stage).or_default().push(given.answer.clone());
        }
        let mut all = Recorded {
            received_at: now.0,
            ..Recorded::default()
        };
        for (stage, answers) in batches {
            let batch = RecordResults {
                answers,
                done_at: command.done_at,
                turnover: Some((command.turnover, stage)),
                ..RecordResults::default()
            };
            let recorded = results::record::within(tx, actor, now, &batch)?;
            all.results.extend(recorded.results);
            all.already += recorded.already;
            all.received_at = all.received_at.min(recorded.received_at);
            all.opened.extend(recorded.opened);
            all.added_to.extend(recorded.added_to);
            all.closed.extend(recorded.closed);
        }
        items::keep_after(tx, now, command.turnover)?;
        Ok(all)
    })
}

/// The stage that an answer is for when nobody says: where it is asked and not answered, else where it is asked, else what is worked on.
fn stage_of(survey: &Survey, answer: &results::Answer) -> TurnoverStage {
    let asked: Vec<&Item> = survey
        .list
        .items
        .iter()
        .filter(|item| {
            item.key.fixture == answer.fixture
                && item.key.part == answer.part
                && item.check.code.as_str() == answer.check.trim()
        })
        .collect();
    let open = asked.iter().filter(|item| !item.is_answered);
    open.map(|item| item.key.stage)
        .min()
        .or(asked.iter().map(|item| item.key.stage).max())
        .unwrap_or(survey.turnover.stage.asks())
}
