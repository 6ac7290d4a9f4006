//! The calendars of buildings as CSV: a row for each public holiday and shut-down period, and one row for a building that has none. What a
//! file says of a building is all of its calendar; buildings that it does not name keep theirs.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::text::unguard;
use super::{Audience, Cell, Column, Problem, Row, Sheet, Table, column};
use crate::domain::code::Coded as _;
use crate::domain::due::{Closing, ClosingText, WorkCalendar, WorkingDays, read_working_days};
use crate::domain::field::FieldError;
use crate::domain::recurrence::Rule;

/// Name of the file in a folder.
pub const FILE: &str = "calendars.csv";

/// The columns, in order.
pub const COLUMNS: [Column; 7] = [
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new(
        "working_days",
        "Weekdays on which planned work is done, the same in each row of a building",
        "MO to SU",
        "MO TU WE TH FR",
    )
    .or_blank("every day"),
    Column::new(
        "kind",
        "Why it is closed: public_holiday or shut_down",
        "code",
        "public_holiday",
    )
    .or_blank("public_holiday; nothing when the row has no name"),
    Column::new("name", "As people call it", "text", "New Year's Day")
        .or_blank("the row says only the working days"),
    Column::new(
        "start",
        "First day when it is once, first day of the rule otherwise",
        "date",
        "2026-01-01",
    )
    .or_blank("only without a name"),
    Column::new(
        "rule",
        "RFC 5545 rule text of the days it begins on",
        "text",
        "FREQ=YEARLY",
    )
    .or_blank("once"),
    Column::new("days", "How long it lasts each time", "days", "1").or_blank("1"),
];

/// Writes calendars, by the codes of their buildings.
///
/// # Errors
/// When `out` can't be written.
pub fn write<'c>(
    out: impl Write,
    audience: Audience,
    calendars: impl Iterator<Item = (&'c str, &'c WorkCalendar)>,
) -> io::Result<()> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    for (code, calendar) in calendars {
        let week = calendar.working_days.codes();
        if calendar.closings.is_empty() && calendar.working_days != WorkingDays::default() {
            let blank = [Cell::Blank, Cell::Blank, Cell::Blank, Cell::Blank, Cell::Blank];
            table.row(
                [Cell::text(code), Cell::text(week.as_str())]
                    .into_iter()
                    .chain(blank),
            )?;
        }
        for closing in &calendar.closings {
            table.row([
                Cell::text(code),
                Cell::text(week.as_str()),
                Cell::Code(closing.kind.code()),
                Cell::text(closing.name.as_str()),
                Cell::Date(closing.start),
                Cell::text(closing.rule.as_ref().map_or("", Rule::text)),
                Cell::Whole(closing.days.into()),
            ])?;
        }
    }
    table.finish().map(drop)
}

/// A calendar as cells, to tell what changes: its working days, and its closings in one cell.
#[must_use]
pub fn own_cells(calendar: &WorkCalendar) -> Vec<Cell<'static>> {
    let closings: Vec<String> = calendar.closings.iter().map(said).collect();
    vec![
        Cell::text(calendar.working_days.codes()),
        Cell::text(closings.join("; ")),
    ]
}

/// The columns of [`own_cells`].
#[must_use]
pub fn own_columns() -> Vec<Column> {
    ["working_days", "closings"]
        .map(|name| Column::new(name, "", "", ""))
        .to_vec()
}

fn said(closing: &Closing) -> String {
    let rule = closing.rule.as_ref().map_or("once", Rule::text);
    format!("{} {} {rule} {} d", closing.name, closing.start, closing.days)
}

/// What a file wants of one building.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Code of the building.
    pub building: String,
    /// The calendar that it is to have.
    pub calendar: WorkCalendar,
}

struct Gathered {
    line: u64,
    week: String,
    calendar: WorkCalendar,
}

/// Reads a file; `is_known` tells whether there is a building with a code.
#[must_use]
pub fn read(name: &str, bytes: &[u8], is_known: impl Fn(&str) -> bool) -> (Vec<Wanted>, Vec<Problem>) {
    let sheet = match Sheet::open(name, bytes) {
        Ok(sheet) => sheet,
        Err(problem) => return (Vec::new(), vec![problem]),
    };
    let mut problems = header_problems(&sheet);
    if !problems.is_empty() {
        return (Vec::new(), problems);
    }
    let mut gathered: BTreeMap<String, Gathered> = BTreeMap::new();
    let mut wrong = Vec::new();
    problems = sheet.each(|row| match take(&sheet, &row, &is_known, &mut gathered) {
        Ok(()) => {}
        Err(found) => wrong.extend(found),
    });
    problems.append(&mut wrong);
    let wanted = gathered.into_iter().map(|(building, one)| Wanted {
        building,
        calendar: one.calendar,
    });
    (wanted.collect(), problems)
}

fn header_problems(sheet: &Sheet<'_>) -> Vec<Problem> {
    let names = column::names(&COLUMNS);
    let problem = |column: &str, value: &str, reason: String, remedy: String| {
        Problem::new(sheet.name(), 1, column, value, reason, remedy)
    };
    let missing = ["building", "name", "start"]
        .into_iter()
        .filter(|needed| sheet.column(needed).is_none());
    let unknown = sheet
        .header()
        .iter()
        .filter(|name| !names.contains(&name.as_str()));
    missing
        .map(|needed| {
            problem(
                needed,
                "",
                format!("There is no column {needed}."),
                "Begin with a line of column names as `anglestop export calendars` writes it.".to_owned(),
            )
        })
        .chain(unknown.map(|name| {
            problem(
                name,
                name,
                "There is no such column.".to_owned(),
                format!("Take it out, or name it one of {}.", names.join(", ")),
            )
        }))
        .collect()
}

fn take(
    sheet: &Sheet<'_>,
    row: &Row<'_>,
    is_known: impl Fn(&str) -> bool,
    gathered: &mut BTreeMap<String, Gathered>,
) -> Result<(), Vec<Problem>> {
    let text = |name: &str| {
        let index = sheet.column(name);
        index
            .map_or("", |index| unguard(row.cell(index).trim()))
            .to_owned()
    };
    let line = row.at.line;
    let one = |column: &str, value: &str, reason: String, remedy: &str| {
        vec![Problem::new(sheet.name(), line, column, value, reason, remedy)]
    };
    let code = text("building").to_uppercase();
    if !is_known(&code) {
        let reason = format!("There is no building “{code}”.");
        return Err(one(
            "building",
            &code,
            reason,
            "Name a building that is there, or bring it along.",
        ));
    }
    let closing = ClosingText {
        kind: text("kind"),
        name: text("name"),
        start: text("start"),
        repeats: String::new(),
        rule: text("rule"),
        days: text("days"),
    };
    let problems_of = |errors: Vec<FieldError>| problems_of(sheet.name(), line, &closing, &errors);
    let week = text("working_days").to_uppercase();
    let known = match gathered.get_mut(&code) {
        Some(known) => known,
        None => {
            let working_days = if week.is_empty() {
                WorkingDays::default()
            } else {
                read_working_days([week.as_str()]).map_err(problems_of)?
            };
            let calendar = WorkCalendar {
                working_days,
                closings: Vec::new(),
            };
            let week = week.clone();
            gathered
                .entry(code.clone())
                .or_insert(Gathered { line, week, calendar })
        }
    };
    if known.week != week {
        let reason = format!(
            "This row says other working days of {code} than line {}.",
            known.line
        );
        return Err(one(
            "working_days",
            &week,
            reason,
            "Say the same working days in each row of a building.",
        ));
    }
    if closing == ClosingText::default() {
        return Ok(());
    }
    known.calendar.closings.push(closing.read().map_err(problems_of)?);
    Ok(())
}

fn problems_of(file: &str, line: u64, closing: &ClosingText, errors: &[FieldError]) -> Vec<Problem> {
    let of = |error: &FieldError| {
        let value = match error.field.as_str() {
            "kind" => closing.kind.as_str(),
            "name" => &closing.name,
            "start" => &closing.start,
            "rule" => &closing.rule,
            "days" => &closing.days,
            _ => "",
        };
        let (reason, remedy) = error
            .message
            .split_once(". ")
            .map_or((error.message.clone(), ""), |(reason, remedy)| {
                (format!("{reason}."), remedy)
            });
        Problem::new(file, line, &error.field, value, reason, remedy)
    };
    errors.iter().map(of).collect()
}
