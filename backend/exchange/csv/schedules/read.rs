//! Reads schedules from a file: the rows of each put together, every field with what is wrong with it. Stores nothing.

use std::collections::BTreeMap;

use super::COLUMNS;
use crate::domain::due::{Known, Schedule, ScheduleText, Terms};
use crate::domain::field::FieldError;
use crate::exchange::csv::text::unguard;
use crate::exchange::csv::{Problem, Row, Sheet, column};

/// What a file wants of one schedule.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The schedule that is there, none when it is new.
    pub before: Option<Schedule>,
    /// What it is to be.
    pub terms: Terms,
}

/// The schedules of a file, and what must be mended.
#[derive(Debug, Default)]
pub struct Read {
    /// Schedules in the order of the file.
    pub wanted: Vec<Wanted>,
    /// What must be mended.
    pub problems: Vec<Problem>,
}

/// A schedule's rows while they come in.
struct Gathered {
    line: u64,
    text: ScheduleText,
}

/// Columns that a file must have.
const NEEDED: [&str; 3] = ["schedule", "rule", "check"];

/// Reads a file. A column that is left out stays as it is.
#[must_use]
pub fn read(name: &str, bytes: &[u8], known: &Known<'_>) -> Read {
    let mut read = Read::default();
    let sheet = match Sheet::open(name, bytes) {
        Ok(sheet) => sheet,
        Err(problem) => {
            read.problems.push(problem);
            return read;
        }
    };
    read.problems = header_problems(&sheet);
    if !read.problems.is_empty() {
        return read;
    }
    let stored: BTreeMap<&str, &Schedule> = known
        .book
        .schedules()
        .map(|schedule| (schedule.terms.code.as_str(), schedule))
        .collect();
    let (gathered, problems) = gather(&sheet, &stored, known);
    read.problems = problems;
    for one in gathered {
        let before = stored.get(one.text.code.as_str()).copied();
        match one.text.read(known, before) {
            Ok(terms) => read.wanted.push(Wanted {
                before: before.cloned(),
                terms,
            }),
            Err(errors) => read
                .problems
                .extend(errors.iter().map(|error| problem(sheet.name(), &one, error))),
        }
    }
    read
}

fn header_problems(sheet: &Sheet<'_>) -> Vec<Problem> {
    let names = column::names(&COLUMNS);
    let missing = NEEDED
        .iter()
        .filter(|needed| sheet.column(needed).is_none())
        .map(|needed| {
            Problem::new(
                sheet.name(),
                1,
                needed,
                "",
                format!("There is no column {needed}."),
                "Begin with a line of column names as `anglestop export schedules` writes it.",
            )
        });
    let unknown = sheet
        .header()
        .iter()
        .filter(|name| !names.contains(&name.as_str()))
        .map(|name| {
            Problem::new(
                sheet.name(),
                1,
                name,
                name,
                "There is no such column.",
                format!("Take it out, or name it one of {}.", names.join(", ")),
            )
        });
    missing.chain(unknown).collect()
}

fn gather(
    sheet: &Sheet<'_>,
    stored: &BTreeMap<&str, &Schedule>,
    known: &Known<'_>,
) -> (Vec<Gathered>, Vec<Problem>) {
    let mut gathered: Vec<Gathered> = Vec::new();
    let mut at: BTreeMap<String, usize> = BTreeMap::new();
    let mut differing = Vec::new();
    let mut problems = sheet.each(|row| {
        let code = text_of(sheet, &row, "schedule").unwrap_or_default();
        let check = text_of(sheet, &row, "check").unwrap_or_default();
        let before = stored.get(code.as_str());
        let base = before.map_or_else(ScheduleText::default, |schedule| {
            ScheduleText::of(&schedule.terms, known)
        });
        let mut text = laid_over(base, sheet, &row);
        text.checks = vec![check.clone()];
        let Some(first) = at.get(&code).and_then(|index| gathered.get_mut(*index)) else {
            at.insert(code, gathered.len());
            gathered.push(Gathered {
                line: row.at.line,
                text,
            });
            return;
        };
        text.checks.clone_from(&first.text.checks);
        if text != first.text {
            differing.push(Problem::new(
                sheet.name(),
                row.at.line,
                "",
                &code,
                format!("This row says something else of {code} than line {}.", first.line),
                "Say the same of a schedule in each of its rows; only the check differs.",
            ));
        }
        first.text.checks.push(check);
    });
    problems.append(&mut differing);
    (gathered, problems)
}

fn text_of(sheet: &Sheet<'_>, row: &Row<'_>, name: &str) -> Option<String> {
    let index = sheet.column(name)?;
    Some(unguard(row.cell(index).trim()).to_owned())
}

fn laid_over(base: ScheduleText, sheet: &Sheet<'_>, row: &Row<'_>) -> ScheduleText {
    let mut text = base;
    let singles: [(&str, &mut String); 17] = [
        ("schedule", &mut text.code),
        ("name", &mut text.name),
        ("pack", &mut text.pack),
        ("active", &mut text.active),
        ("recorded_only", &mut text.recorded_only),
        ("anchor", &mut text.anchor),
        ("rule", &mut text.rule),
        ("start", &mut text.start),
        ("lead_days", &mut text.lead_days),
        ("grace_days", &mut text.grace_days),
        ("early_days", &mut text.early_days),
        ("scope_min_age_years", &mut text.scope_min_age_years),
        ("scope_max_age_years", &mut text.scope_max_age_years),
        ("technician", &mut text.technician),
        ("scope_min_failures", &mut text.scope_min_failures),
        ("on_closed_days", &mut text.on_closed_days),
        ("vacancy", &mut text.vacancy),
    ];
    for (name, target) in singles {
        if let Some(cell) = text_of(sheet, row, name) {
            *target = cell;
        }
    }
    let lists: [(&str, &mut Vec<String>); 5] = [
        ("scope_kinds", &mut text.scope_kinds),
        ("scope_parts", &mut text.scope_parts),
        ("scope_buildings", &mut text.scope_buildings),
        ("scope_tags", &mut text.scope_tags),
        ("season_months", &mut text.season_months),
    ];
    for (name, target) in lists {
        if let Some(cell) = text_of(sheet, row, name) {
            *target = cell.split_whitespace().map(str::to_owned).collect();
        }
    }
    // An interval has no early days of its own; the file shows what is in force.
    if text.anchor.trim() != "calendar" {
        text.early_days.clear();
    }
    if text.name.is_empty() {
        text.name.clone_from(&text.code);
    }
    text
}

fn problem(file: &str, gathered: &Gathered, error: &FieldError) -> Problem {
    let text = &gathered.text;
    let joined;
    let (column, value): (&str, &str) = match error.field.as_str() {
        "code" => ("schedule", &text.code),
        "checks" => {
            joined = text.checks.join(" ");
            ("check", &joined)
        }
        "name" => ("name", &text.name),
        "pack" => ("pack", &text.pack),
        "active" => ("active", &text.active),
        "recorded_only" => ("recorded_only", &text.recorded_only),
        "anchor" => ("anchor", &text.anchor),
        "rule" => ("rule", &text.rule),
        "start" => ("start", &text.start),
        "lead_days" => ("lead_days", &text.lead_days),
        "grace_days" => ("grace_days", &text.grace_days),
        "early_days" => ("early_days", &text.early_days),
        "technician" => ("technician", &text.technician),
        other => (other, ""),
    };
    let (reason, remedy) = error
        .message
        .split_once(". ")
        .map_or((error.message.as_str(), ""), |(reason, remedy)| (reason, remedy));
    let reason = if remedy.is_empty() {
        reason.to_owned()
    } else {
        format!("{reason}.")
    };
    Problem::new(file, gathered.line, column, value, reason, remedy)
}
