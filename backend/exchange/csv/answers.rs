//! Answers to checks as CSV, a row each, as somebody fills them in or as `export results` wrote them. Read only; whether an answer can
//! be taken is decided elsewhere.

use super::{Column, Problem, Sheet};

/// The columns that are read.
pub const COLUMNS: [Column; 11] = [
    Column::new(
        "id",
        "UUID of the answer; the same id twice changes nothing",
        "UUID",
        "0193f2a4-7c1e-7a55-9c0a-2f3b5d6e7f80",
    )
    .or_blank(
        "made from the row when done_at is given, so that the same row twice changes nothing; else a new one",
    ),
    Column::new("building", "Code of the building", "code", "ALDER"),
    Column::new("unit", "Label of the unit", "text", "204"),
    Column::new("tag", "Label of the place", "text", "WC-1"),
    Column::new("part", "Part that was checked", "code", "wax_seal").or_blank("the fixture itself"),
    Column::new("check", "Code of the check", "code", "wc_base_dry"),
    Column::new("outcome", "pass, fail or not_checked", "code", "pass").or_blank("the reading decides"),
    Column::new("reading", "What was read, as typed", "text", "14 7/8").or_blank("a verdict has none"),
    Column::new(
        "reason",
        "Why it was not checked; not looked at otherwise",
        "text",
        "Nobody home",
    )
    .or_blank("none"),
    Column::new("note", "Free text", "text", "Shutoff stiff").or_blank("none"),
    Column::new(
        "done_at",
        "When it was done, UTC with a Z, else on the building's clock",
        "instant",
        "2026-09-01 09:05",
    )
    .or_blank("now"),
];

/// Columns of an export that say nothing new here.
const KNOWN: [&str; 7] = [
    "kind",
    "check_version",
    "done_on",
    "received_at",
    "person",
    "asked",
    "detail",
];

/// One row.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AnswerRow {
    /// Line of the file.
    pub line: u64,
    /// May be empty.
    pub id: String,
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub unit: String,
    /// Label of the place.
    pub tag: String,
    /// Code of the part, may be empty.
    pub part: String,
    /// Code of the check.
    pub check: String,
    /// May be empty.
    pub outcome: String,
    /// May be empty.
    pub reading: String,
    /// May be empty.
    pub reason: String,
    /// May be empty.
    pub note: String,
    /// May be empty.
    pub done_at: String,
}

/// Reads a file.
///
/// # Errors
/// Everything that is wrong with its form: the file, its columns, the length of its rows.
pub fn read(name: &str, bytes: &[u8]) -> Result<Vec<AnswerRow>, Vec<Problem>> {
    let sheet = Sheet::open(name, bytes).map_err(|problem| vec![problem])?;
    let mut problems = Vec::new();
    for column in sheet.header() {
        let known = COLUMNS.iter().any(|known| known.name == column) || KNOWN.contains(&column.as_str());
        if !known && !column.starts_with('#') {
            let names: Vec<&str> = COLUMNS.iter().map(|column| column.name).collect();
            let remedy = format!("Take it out, or name it one of {}.", names.join(", "));
            problems.push(Problem::new(
                name,
                1,
                column,
                column,
                format!("There is no column {column}."),
                remedy,
            ));
        }
    }
    for needed in ["building", "unit", "tag", "check"] {
        if sheet.column(needed).is_none() {
            problems.push(Problem::new(
                name,
                1,
                needed,
                "",
                format!("The column {needed} is missing."),
                format!("Add a column {needed}."),
            ));
        }
    }
    let place = |column: &str| sheet.column(column);
    let columns = COLUMNS.map(|column| place(column.name));
    let mut rows = Vec::new();
    problems.extend(sheet.each(|row| {
        let cells = columns.map(|at| at.map_or("", |at| row.cell(at)));
        let [
            id,
            building,
            unit,
            tag,
            part,
            check,
            outcome,
            reading,
            reason,
            note,
            done_at,
        ] = cells.map(|cell| unguarded(cell.trim()).to_owned());
        rows.push(AnswerRow {
            line: row.at.line,
            id,
            building,
            unit,
            tag,
            part,
            check,
            outcome,
            reading,
            reason,
            note,
            done_at,
        });
    }));
    if problems.is_empty() {
        Ok(rows)
    } else {
        Err(problems)
    }
}

/// The text without the apostrophe that guards it in a spreadsheet.
fn unguarded(cell: &str) -> &str {
    super::text::unguard(cell)
}
