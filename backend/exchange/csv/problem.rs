//! What is wrong in a file, row by row: line, column, value, why, and what to do. The list is itself a CSV.

use std::io::Write;

use serde::Serialize;

use super::{Audience, Cell, Column, Table, column};

/// Longest value that is repeated, characters.
const SHOWN_CHARACTERS: usize = 120;

/// One thing to mend.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Name of the file.
    pub file: String,
    /// Line, the first is 1; a cell with line breaks counts from where its row begins.
    pub line: u64,
    /// Column by its name; empty when it is about the whole row.
    pub column: String,
    /// What stands there, cut when long.
    pub value: String,
    /// Why it can't be taken.
    pub reason: String,
    /// What to do.
    pub remedy: String,
}

/// The columns of the list of problems.
pub const COLUMNS: [Column; 6] = [
    Column::new("file", "Name of the file", "text", "fleet.csv"),
    Column::new("line", "Line of the file, the first is 1", "number", "17"),
    Column::new("column", "Column by its name", "text", "installed_on").or_blank("the whole row"),
    Column::new("value", "What stands there", "text", "3/2/2026").or_blank("nothing stands there"),
    Column::new("reason", "Why it can't be taken", "text", "This is not a date."),
    Column::new("remedy", "What to do", "text", "Write 2026-02-03."),
];

impl Problem {
    /// A problem with one cell.
    pub fn new(
        file: &str,
        line: u64,
        column: &str,
        value: &str,
        reason: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            file: file.to_owned(),
            line,
            column: column.to_owned(),
            value: cut(value),
            reason: reason.into(),
            remedy: remedy.into(),
        }
    }
}

fn cut(value: &str) -> String {
    match value.char_indices().nth(SHOWN_CHARACTERS) {
        None => value.to_owned(),
        Some((end, _)) => format!("{}…", &value[..end]),
    }
}

/// Writes the list as a CSV.
///
/// # Errors
/// When `out` can't be written.
pub fn write(problems: &[Problem], out: impl Write, audience: Audience) -> std::io::Result<()> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    for problem in problems {
        table.row([
            Cell::text(&problem.file),
            Cell::Whole(i64::try_from(problem.line).unwrap_or(i64::MAX)),
            Cell::text(&problem.column),
            Cell::text(&problem.value),
            Cell::text(&problem.reason),
            Cell::text(&problem.remedy),
        ])?;
    }
    table.finish().map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_value_is_cut_between_characters() {
        let problem = Problem::new("f.csv", 2, "note", &"é".repeat(200), "Too long.", "Shorten it.");
        assert_eq!(problem.value, format!("{}…", "é".repeat(SHOWN_CHARACTERS)));
    }
}
