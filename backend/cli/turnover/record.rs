//! `anglestop turnover record`: one answer by its options, many from a CSV, or all that is left of a stage as passed.

use std::path::PathBuf;

use clap::Args;
use uuid::Uuid;

use super::which::Which;
use crate::actions::results::Answer as Given;
use crate::actions::turnovers::{Record, StagedAnswer, record};
use crate::cli::record as answers;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::result::Outcome;
use crate::domain::trade::{Answer, TurnoverStage};
use crate::domain::turnover::Turnover;
use crate::error::{Error, Result};
use crate::exchange::csv::answers::AnswerRow;
use crate::store::lists::turnovers::Surveyor;
use crate::store::{Db, units};

/// Options of `turnover record`.
#[derive(Debug, Args)]
#[command(
    after_help = "The columns of a file are those of `anglestop record --columns`; all of its rows are taken or none."
)]
pub struct Options {
    #[command(flatten)]
    which: Which,
    /// Label of the fixture's place, such as WC-1
    #[arg(long, value_name = "TAG", requires = "check", required_unless_present_any = ["file", "rest_passes"])]
    fixture: Option<String>,
    /// Which part of it, such as wax_seal; the fixture itself when not given
    #[arg(long, default_value = "")]
    part: String,
    /// Code of the check, such as wc_base_dry
    #[arg(long, value_name = "CODE", requires = "fixture")]
    check: Option<String>,
    /// pass, fail or not_checked; may be left out when a reading decides
    #[arg(long, default_value = "")]
    outcome: String,
    /// What was read, with its unit: '45 s', '14 7/8 in'
    #[arg(long, default_value = "")]
    reading: String,
    /// Why it was not checked
    #[arg(long, default_value = "")]
    reason: String,
    /// Free text
    #[arg(long, default_value = "")]
    note: String,
    /// When it was done: '2026-11-24 14:30' on the building's clock, or 2026-11-24T20:30:00Z; now when not given
    #[arg(long, default_value = "", value_name = "INSTANT")]
    done_at: String,
    /// UUID of the answer; the same twice changes nothing
    #[arg(long, default_value = "", value_name = "UUID")]
    id: String,
    /// found, ready or move_in; where the checklist asks for it when not given
    #[arg(long, value_name = "STAGE")]
    stage: Option<String>,
    /// Many answers, a row each
    #[arg(long, value_name = "CSV", conflicts_with_all = ["fixture", "check", "rest_passes"])]
    file: Option<PathBuf>,
    /// Pass every check of the stage that has no answer yet and needs no reading; say it when you looked at each
    #[arg(long, conflicts_with = "fixture", requires = "stage")]
    rest_passes: bool,
    /// Say what was done as JSON
    #[arg(long)]
    json: bool,
}

/// Records.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let now = Now::from_system();
    let stage = options.stage.as_deref().map(TurnoverStage::from_code).transpose();
    let stage = stage.map_err(Error::refused)?;
    let turnover = db.read(|conn| options.which.find(conn))?;
    let rows = rows(db, options, &turnover)?;
    let given = match (options.rest_passes, stage) {
        (true, Some(stage)) => rest(db, now, &turnover, stage)?,
        _ => answers::answers_of(db, now, &rows)?,
    };
    let command = Record {
        turnover: turnover.id,
        answers: given
            .iter()
            .map(|answer| StagedAnswer {
                answer: answer.clone(),
                stage,
            })
            .collect(),
        done_at: None,
    };
    let recorded = record(db, &Actor::operator(), now, &command)
        .map_err(|error| answers::by_line(error, &given, &rows))?;
    answers::tell(options.json.then_some(answers::Json), &recorded)
}

/// The rows of the file, or the one of the options.
fn rows(db: &Db, options: &Options, turnover: &Turnover) -> Result<Vec<AnswerRow>> {
    if let Some(file) = &options.file {
        return answers::read(file);
    }
    if options.rest_passes {
        return Ok(Vec::new());
    }
    let (building, unit) = db.read(|conn| units::by_key(conn, &Scope::All, turnover.unit))?;
    Ok(vec![AnswerRow {
        line: 0,
        id: options.id.clone(),
        building: building.facts.code,
        unit: unit.facts.label,
        tag: options.fixture.clone().unwrap_or_default(),
        part: options.part.clone(),
        check: options.check.clone().unwrap_or_default(),
        outcome: options.outcome.clone(),
        reading: options.reading.clone(),
        reason: options.reason.clone(),
        note: options.note.clone(),
        done_at: options.done_at.clone(),
    }])
}

/// What is left of a stage, as passed.
fn rest(db: &Db, now: Now, turnover: &Turnover, stage: TurnoverStage) -> Result<Vec<Given>> {
    let survey = db.read(|conn| Surveyor::new(conn, now)?.of(conn, turnover.clone()))?;
    let open = survey.list.items.iter().filter(|item| {
        item.key.stage == stage
            && !item.is_answered
            && item.rechecks.is_empty()
            && matches!(item.check.answer, Answer::Verdict { .. })
    });
    Ok(open
        .map(|item| Given {
            client_id: Uuid::new_v4(),
            fixture: item.key.fixture,
            part: item.key.part,
            check: item.check.code.to_string(),
            outcome: Some(Outcome::Pass),
            reading: String::new(),
            reason: String::new(),
            note: String::new(),
            done_at: None,
        })
        .collect())
}
