//! Schedules as CSV: a row for each check that a schedule asks for, with what the check says of itself, so that the file alone tells what
//! comes due. Reading takes the same file; what it says of checks is the checks' own and is not read back.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::{Audience, Cell, Column, Problem, Row, Sheet, Table, column};
use crate::domain::code::Coded;
use crate::domain::due::{Known, Schedule, ScheduleText, Terms};
use crate::domain::field::FieldError;
use crate::domain::trade::Check;

/// Name of the file in a folder.
pub const FILE: &str = "schedules.csv";

const EMPTY_FOR_ALL: &str = "all";

/// The columns, in order.
pub const COLUMNS: [Column; 24] = [
    Column::new("schedule", "Code of the schedule", "code", "yearly_hoses"),
    Column::new("name", "Its name", "text", "Hoses, yearly"),
    Column::new(
        "pack",
        "Where it came from: yearly, half_yearly, resident, chosen or own",
        "code",
        "yearly",
    )
    .or_blank("unchanged; own when it is new"),
    Column::new("active", "yes when it asks for anything", "yes or no", "yes").or_blank("no"),
    Column::new(
        "recorded_only",
        "yes when results are recorded and nothing comes due",
        "yes or no",
        "no",
    )
    .or_blank("no"),
    Column::new(
        "anchor",
        "calendar, or last_done when it counts from the last time",
        "code",
        "last_done",
    )
    .or_blank("last_done"),
    Column::new(
        "rule",
        "RFC 5545 rule text, or an ISO 8601 interval from the last time",
        "text",
        "P1Y",
    ),
    Column::new("start", "First day of a calendar rule", "date", "2024-10-01").or_blank("an interval has none"),
    Column::new(
        "lead_days",
        "Days the window is open before the due date",
        "days",
        "30",
    )
    .or_blank("0"),
    Column::new(
        "grace_days",
        "Days after the due date that are not yet overdue",
        "days",
        "30",
    )
    .or_blank("0"),
    Column::new(
        "early_days",
        "Days before an occurrence from which a result satisfies it",
        "days",
        "182",
    )
    .or_blank("half the shortest gap, at least the lead"),
    Column::new("scope_kinds", "Only these kinds of fixture", "codes", "lavatory").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_parts", "Only these parts", "codes", "hose_hot hose_cold").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_buildings", "Only these buildings", "codes", "ALDER").or_blank(EMPTY_FOR_ALL),
    Column::new("scope_tags", "Only places with these tags", "labels", "WC-1").or_blank(EMPTY_FOR_ALL),
    Column::new(
        "scope_min_age_years",
        "Nothing is due before it is so old; an unknown age counts as old",
        "years",
        "10",
    )
    .or_blank("any age"),
    Column::new(
        "scope_max_age_years",
        "Nothing is due after it is so old",
        "years",
        "5",
    )
    .or_blank("any age"),
    Column::new(
        "technician",
        "Mail address of who does it",
        "mail address",
        "ines@anglestop.example",
    )
    .or_blank("the building's technician"),
    Column::new("check", "Code of a check it asks for", "code", "washer_hose_sound"),
    Column::new(
        "check_kinds",
        "Kinds of fixture that the check is asked of",
        "codes",
        "washing_machine",
    )
    .or_blank("not read"),
    Column::new(
        "check_parts",
        "Parts that the check is asked of",
        "codes",
        "hose_hot hose_cold",
    )
    .or_blank("the fixture itself"),
    Column::new(
        "check_building_age_years",
        "The check is asked only in buildings at least so old, counted from 1 January of the year they were built",
        "years",
        "40",
    )
    .or_blank("any age"),
    Column::new(
        "check_base_joint",
        "The check is asked only under these policies for the base joint",
        "codes",
        "sealed",
    )
    .or_blank(EMPTY_FOR_ALL),
    Column::new(
        "off_until_chosen",
        "yes when the check is asked only where an active schedule of the packs chosen or own names it",
        "yes or no",
        "no",
    )
    .or_blank("not read"),
];

/// Writes every schedule.
///
/// # Errors
/// When `out` can't be written.
pub fn write(out: impl Write, audience: Audience, known: &Known<'_>) -> io::Result<()> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    let mut schedules: Vec<&Schedule> = known.book.schedules().collect();
    schedules.sort_by(|a, b| a.terms.code.cmp(&b.terms.code));
    for schedule in schedules {
        let text = ScheduleText::of(&schedule.terms, known);
        let early = schedule.terms.timing.early_days().to_string();
        let mut checks: Vec<&Check> = schedule
            .terms
            .checks
            .iter()
            .filter_map(|id| known.book.check(*id))
            .map(|asked| &*asked.check)
            .collect();
        checks.sort_by(|a, b| a.code.cmp(&b.code));
        for check in checks {
            table.row(cells(&text, &early, check))?;
        }
    }
    table.finish().map(drop)
}

fn cells<'a>(text: &'a ScheduleText, early: &'a str, check: &'a Check) -> Vec<Cell<'a>> {
    let yes_or_no = |is: bool| Cell::Code(if is { "yes" } else { "no" });
    let age = check.conditions.building_age.as_ref();
    let mut cells: Vec<Cell<'a>> = vec![
        Cell::text(&text.code),
        Cell::text(&text.name),
        Cell::text(&text.pack),
        Cell::text(&text.active),
        Cell::text(&text.recorded_only),
        Cell::text(&text.anchor),
        Cell::text(&text.rule),
        Cell::text(&text.start),
        Cell::text(&text.lead_days),
        Cell::text(&text.grace_days),
        Cell::text(early),
    ];
    let lists = [
        &text.scope_kinds,
        &text.scope_parts,
        &text.scope_buildings,
        &text.scope_tags,
    ];
    cells.extend(lists.map(|list| Cell::text(list.join(" "))));
    cells.extend([
        Cell::text(&text.scope_min_age_years),
        Cell::text(&text.scope_max_age_years),
        Cell::text(&text.technician),
        Cell::text(check.code.as_str()),
        Cell::text(codes(&check.kinds)),
        Cell::text(codes(&check.parts)),
        Cell::whole(age.map(|age| i64::from(age.at_least_years))),
        Cell::text(codes(&check.conditions.base_joint)),
        yes_or_no(check.off_until_chosen),
    ]);
    cells
}

fn codes<T: Coded>(values: &[T]) -> String {
    values
        .iter()
        .map(|value| value.code())
        .collect::<Vec<_>>()
        .join(" ")
}

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
    Some(super::text::unguard(row.cell(index).trim()).to_owned())
}

fn laid_over(base: ScheduleText, sheet: &Sheet<'_>, row: &Row<'_>) -> ScheduleText {
    let mut text = base;
    let singles: [(&str, &mut String); 14] = [
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
    ];
    for (name, target) in singles {
        if let Some(cell) = text_of(sheet, row, name) {
            *target = cell;
        }
    }
    let lists: [(&str, &mut Vec<String>); 4] = [
        ("scope_kinds", &mut text.scope_kinds),
        ("scope_parts", &mut text.scope_parts),
        ("scope_buildings", &mut text.scope_buildings),
        ("scope_tags", &mut text.scope_tags),
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
