//! Deficiencies to be scored as a CSV: what was found, where, and how grave. Any column order; every bad row is named.

use super::{Column, Problem, Sheet, text};
use crate::domain::code::Coded;
use crate::domain::condition::score::{Area, Defect};
use crate::domain::trade::Severity;

/// What each column means.
pub const COLUMNS: [Column; 4] = [
    Column::new("area", "Where it was found", "outside, inside or unit", "unit"),
    Column::new(
        "place",
        "The unit, or the building of a common area",
        "text",
        "204",
    )
    .or_blank("outside"),
    Column::new(
        "deficiency",
        "Which deficiency of the standard",
        "text",
        "leak_water",
    ),
    Column::new(
        "severity",
        "How grave",
        "life_threatening, severe, moderate or low",
        "moderate",
    ),
];

/// Reads a file.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(name: &str, bytes: &[u8]) -> Result<Vec<Defect>, Vec<Problem>> {
    let sheet = Sheet::open(name, bytes).map_err(|problem| vec![problem])?;
    let mut problems = Vec::new();
    let mut at = [0; 4];
    for (column, place) in COLUMNS.iter().zip(&mut at) {
        match sheet.column(column.name) {
            Some(found) => *place = found,
            None => problems.push(Problem::new(
                name,
                1,
                column.name,
                "",
                format!("The column {} is missing.", column.name),
                format!("Add a column {}: {}.", column.name, column.meaning.to_lowercase()),
            )),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut defects = Vec::new();
    let mut bad = Vec::new();
    problems.extend(sheet.each(|row| {
        let [area, place, deficiency, severity] = at.map(|column| text::unguard(row.cell(column).trim()));
        let line = row.at.line;
        let mut wrong = |column: &str, value: &str, reason: String, remedy: &str| {
            bad.push(Problem::new(name, line, column, value, reason, remedy));
        };
        let area_read = Area::from_code(area);
        if let Err(sentence) = &area_read {
            wrong("area", area, sentence.clone(), "Write one of them.");
        }
        let severity_read = Severity::from_code(severity);
        if let Err(sentence) = &severity_read {
            wrong("severity", severity, sentence.clone(), "Write one of them.");
        }
        if deficiency.is_empty() {
            let reason = "The deficiency is empty.".to_owned();
            wrong(
                "deficiency",
                "",
                reason,
                "Name it, the same one by the same name.",
            );
        }
        if place.is_empty() && area == Area::Unit.code() {
            let reason = "A deficiency of a unit has no place.".to_owned();
            wrong("place", "", reason, "Write the unit's label.");
        }
        if let (Ok(area), Ok(severity)) = (area_read, severity_read) {
            defects.push(Defect::new(area, place, deficiency, severity));
        }
    }));
    problems.extend(bad);
    if problems.is_empty() {
        Ok(defects)
    } else {
        problems.sort_by_key(|problem| problem.line);
        Err(problems)
    }
}
