//! `anglestop record`: one answer by its options, or many from a CSV; all of them or none.

use std::path::{Path, PathBuf};

use clap::Args;
use serde::Serialize;

use super::Setting;
use crate::actions::results::by_label::Found;
use crate::actions::results::{Answer, RecordResults, Recorded, record};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::error::{Error, Result};
use crate::exchange::csv::answers::{self, AnswerRow};
use crate::exchange::csv::{Problem, column};
use crate::language::count;
use crate::store::Db;

/// Options of `record`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  anglestop record --building ALDER --unit 204 --fixture WC-1 --part wax_seal --check wc_base_dry --outcome pass
  anglestop record --building ALDER --unit 204 --fixture WC-1 --part fill_valve --check wc_refill --reading '45 s'
  anglestop record --building ALDER --unit 204 --fixture WC-1 --check wc_cracks --outcome not_checked --reason 'Locked'
  anglestop record --file walk.csv

A failure opens a deficiency or adds to the one that stands; a pass closes it; not_checked satisfies nothing. The same --id twice
changes nothing; with another content it is refused. `--columns` says what each column of a file means.")]
pub struct Options {
    /// Code of the building
    #[arg(long, required_unless_present_any = ["file", "columns"])]
    building: Option<String>,
    /// Label of the unit, as on its door
    #[arg(long, required_unless_present_any = ["file", "columns"])]
    unit: Option<String>,
    /// Label of the fixture's place, such as WC-1
    #[arg(long, value_name = "TAG", required_unless_present_any = ["file", "columns"])]
    fixture: Option<String>,
    /// Which part of it, such as wax_seal; the fixture itself when not given
    #[arg(long)]
    part: Option<String>,
    /// Code of the check, such as wc_base_dry
    #[arg(long, value_name = "CODE", required_unless_present_any = ["file", "columns"])]
    check: Option<String>,
    /// pass, fail or not_checked; may be left out when a reading decides
    #[arg(long)]
    outcome: Option<String>,
    /// What was read, with its unit: '45 s', '14 7/8 in'
    #[arg(long)]
    reading: Option<String>,
    /// Why it was not checked
    #[arg(long)]
    reason: Option<String>,
    /// Free text
    #[arg(long)]
    note: Option<String>,
    /// When it was done: '2026-11-24 14:30' on the building's clock, or 2026-11-24T20:30:00Z; now when not given
    #[arg(long, value_name = "INSTANT")]
    done_at: Option<String>,
    /// UUID of the answer; the same twice changes nothing
    #[arg(long, value_name = "UUID")]
    id: Option<String>,
    /// Many answers, a row each
    #[arg(long, value_name = "CSV", conflicts_with_all = ["building", "unit", "fixture", "part", "check", "outcome", "reading", "reason", "note", "done_at", "id"])]
    file: Option<PathBuf>,
    /// Say what each column of a file means
    #[arg(long)]
    columns: bool,
    /// Say what was done as JSON
    #[arg(long)]
    json: bool,
}

/// What was done.
#[derive(Debug, Serialize)]
struct Done {
    recorded: usize,
    already: usize,
    results: Vec<i64>,
    opened: Vec<i64>,
    failed_again: Vec<i64>,
    closed: Vec<i64>,
}

/// Records.
///
/// # Errors
/// A sentence for each answer that can't be taken; then nothing was stored.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    if options.columns {
        let out = std::io::stdout().lock();
        return super::until_the_pipe_closes(column::describe(&answers::COLUMNS, out));
    }
    let rows = match &options.file {
        None => vec![row(options)],
        Some(file) => read(file)?,
    };
    let db = setting.open_there()?;
    let now = Now::from_system();
    let taken = answers_of(&db, now, &rows)?;
    let batch = RecordResults {
        answers: taken,
        ..RecordResults::default()
    };
    let recorded = record(&db, &Actor::operator(), now, &batch)
        .map_err(|error| by_line(error, &batch.answers, &rows))?;
    tell(options.json.then_some(Json), &recorded)
}

fn row(options: &Options) -> AnswerRow {
    let text = |option: &Option<String>| option.clone().unwrap_or_default();
    AnswerRow {
        line: 0,
        id: text(&options.id),
        building: text(&options.building),
        unit: text(&options.unit),
        tag: text(&options.fixture),
        part: text(&options.part),
        check: text(&options.check),
        outcome: text(&options.outcome),
        reading: text(&options.reading),
        reason: text(&options.reason),
        note: text(&options.note),
        done_at: text(&options.done_at),
    }
}

/// The rows of a file.
pub(super) fn read(file: &Path) -> Result<Vec<AnswerRow>> {
    let bytes = std::fs::read(file)
        .map_err(|cause| Error::refused(format!("{} can't be read: {cause}. Give a CSV.", file.display())))?;
    let name = file.file_name().unwrap_or(file.as_os_str()).to_string_lossy();
    let told = |problem: &Problem| format!("line {}: {} {}", problem.line, problem.reason, problem.remedy);
    answers::read(&name, &bytes).map_err(|problems| refused(problems.iter().map(told).collect()))
}

/// What must be mended: a single sentence as the refusal itself, more as lines before it.
fn refused(sentences: Vec<String>) -> Error {
    match <[String; 1]>::try_from(sentences) {
        Ok([only]) => Error::refused(only),
        Err(sentences) => {
            for sentence in &sentences {
                eprintln!("{sentence}");
            }
            let what = count(sentences.len(), "thing must", "things must");
            Error::refused(format!("{what} be mended. Nothing was stored."))
        }
    }
}

/// The answers of all rows, or every row that can't be used.
pub(super) fn answers_of(db: &Db, now: Now, rows: &[AnswerRow]) -> Result<Vec<Answer>> {
    let mut errors = Vec::new();
    let mut taken = Vec::with_capacity(rows.len());
    db.read(|conn| {
        let mut found = Found::default();
        for row in rows {
            match found.answer(conn, &Scope::All, now, row) {
                Ok(answer) => taken.push(answer),
                Err(Error::Refused(sentence)) => errors.push(placed(row, &sentence)),
                Err(other) => return Err(other),
            }
        }
        Ok(())
    })?;
    if errors.is_empty() {
        Ok(taken)
    } else {
        Err(refused(errors))
    }
}

/// A sentence with the line of the file that it is about; line 0 is no file.
fn placed(row: &AnswerRow, sentence: &str) -> String {
    if row.line == 0 {
        sentence.to_owned()
    } else {
        format!("line {}: {sentence}", row.line)
    }
}

/// Refusals that name an answer by its id, with the line it stands on, a line each.
pub(super) fn by_line(error: Error, answers: &[Answer], rows: &[AnswerRow]) -> Error {
    let Error::Fields(errors) = error else {
        return error;
    };
    let placed = errors.into_iter().map(|error| {
        let of = answers
            .iter()
            .zip(rows)
            .find(|(answer, _)| answer.client_id.to_string() == error.field);
        of.map_or(error.message.clone(), |(_, row)| {
            self::placed(row, &error.message)
        })
    });
    refused(placed.collect())
}

/// As JSON instead of words.
#[derive(Debug, Clone, Copy)]
pub(super) struct Json;

/// Says what was done.
pub(super) fn tell(json: Option<Json>, recorded: &Recorded) -> Result<()> {
    let keys = |ids: &[crate::domain::register::DeficiencyId]| ids.iter().map(|id| id.0).collect::<Vec<_>>();
    let done = Done {
        recorded: recorded.results.len(),
        already: recorded.already,
        results: recorded.results.iter().map(|id| id.0).collect(),
        opened: keys(&recorded.opened),
        failed_again: keys(&recorded.added_to),
        closed: keys(&recorded.closed),
    };
    if json.is_some() {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&done).map_err(Error::internal)?
        );
        return Ok(());
    }
    crate::cli::say!("{} recorded.", count(done.recorded, "result", "results"));
    if done.already > 0 {
        crate::cli::say!("{} there already, unchanged.", count(done.already, "was", "were"));
    }
    let lists = [
        ("Opened", &done.opened),
        ("Failed again", &done.failed_again),
        ("Closed", &done.closed),
    ];
    for (word, ids) in lists {
        for id in ids {
            crate::cli::say!("{word} deficiency {id}.");
        }
    }
    Ok(())
}
