//! What a file says of one thing: the cells that say something, with their lines, and what is wrong with them.

use std::collections::HashMap;
use std::sync::Arc;

use crate::domain::field::{FieldError, capital};
use crate::exchange::csv::{Cell, Column, Problem};

/// Where a row begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Name of the file.
    pub file: Arc<str>,
    /// Line, the first is 1.
    pub line: u64,
}

/// What one cell says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said<'r> {
    /// Nothing: what is known stays.
    Nothing,
    /// That there is none.
    Empty,
    /// This text, trimmed of nothing, without a guard.
    Text(&'r str),
}

#[derive(Debug, Clone)]
struct SaidCell {
    column: &'static str,
    text: String,
    line: u64,
}

/// The cells about one thing. Cells that say nothing are not kept.
#[derive(Debug, Clone)]
pub struct Record {
    /// Where it is said, or first said.
    pub place: Place,
    cells: Vec<SaidCell>,
}

impl Record {
    /// Nothing is said yet.
    #[must_use]
    pub fn new(place: Place) -> Self {
        Self {
            place,
            cells: Vec::new(),
        }
    }

    /// Says a cell; an empty `text` says that there is none.
    pub fn say(&mut self, column: &'static str, text: &str) {
        let line = self.place.line;
        self.cells.push(SaidCell {
            column,
            text: text.to_owned(),
            line,
        });
    }

    /// Says a cell once more, in another row; the same again says nothing new.
    ///
    /// # Errors
    /// When the rows contradict each other; `noun` names what they speak of.
    pub fn say_again(
        &mut self,
        column: &'static str,
        text: &str,
        place: &Place,
        noun: &str,
    ) -> Result<(), Problem> {
        let Some(known) = self.cells.iter().find(|cell| cell.column == column) else {
            self.cells.push(SaidCell {
                column,
                text: text.to_owned(),
                line: place.line,
            });
            return Ok(());
        };
        if known.text.trim() == text.trim() {
            return Ok(());
        }
        let before = if known.text.is_empty() { "-" } else { &known.text };
        Err(Problem::new(
            &place.file,
            place.line,
            column,
            text,
            format!("Line {} says “{before}” of the same {noun}.", known.line),
            format!(
                "Give the {noun} one value: the same in each of its rows, or in one row and blank in the others."
            ),
        ))
    }

    /// What the cell says.
    #[must_use]
    pub fn said(&self, column: &str) -> Said<'_> {
        match self.cell(column) {
            None => Said::Nothing,
            Some(cell) if cell.text.trim().is_empty() => Said::Empty,
            Some(cell) => Said::Text(&cell.text),
        }
    }

    /// The text of the cell, trimmed; empty when it says nothing.
    #[must_use]
    pub fn text(&self, column: &str) -> &str {
        self.cell(column).map_or("", |cell| cell.text.trim())
    }

    /// A problem with one cell, or with the row when it says nothing there.
    #[must_use]
    pub fn problem(&self, column: &str, reason: impl Into<String>, remedy: impl Into<String>) -> Problem {
        let (line, text) = self
            .cell(column)
            .map_or((self.place.line, ""), |cell| (cell.line, cell.text.as_str()));
        Problem::new(&self.place.file, line, column, text, reason, remedy)
    }

    /// The problems that the register found, told by the file's own columns; `columns` gives those that differ from the field.
    #[must_use]
    pub fn problems_of(&self, errors: &[FieldError], columns: &[(&str, &str)]) -> Vec<Problem> {
        errors
            .iter()
            .map(|error| {
                let column = columns
                    .iter()
                    .find(|(field, _)| *field == error.field)
                    .map_or(error.field.as_str(), |(_, column)| column);
                let (reason, remedy) = reason_and_remedy(&error.message);
                self.problem(column, reason, remedy)
            })
            .collect()
    }

    fn cell(&self, column: &str) -> Option<&SaidCell> {
        self.cells.iter().find(|cell| cell.column == column)
    }
}

/// What is known of a thing, under what a record says of it.
pub struct Overlay<'o> {
    record: Option<&'o Record>,
    known: HashMap<&'static str, Cell<'o>>,
}

impl<'o> Overlay<'o> {
    /// A record over what is known; nothing is known of something new.
    #[must_use]
    pub fn new(record: Option<&'o Record>) -> Self {
        Self {
            record,
            known: HashMap::new(),
        }
    }

    /// Adds what is known, cell by cell.
    #[must_use]
    pub fn over(mut self, columns: &[Column], cells: impl IntoIterator<Item = Cell<'o>>) -> Self {
        let names = columns.iter().map(|column| column.name);
        self.known.extend(names.zip(cells));
        self
    }

    /// The text that holds: what is said, else what is known, else nothing.
    #[must_use]
    pub fn text(&self, column: &str) -> String {
        match self.record.map_or(Said::Nothing, |record| record.said(column)) {
            Said::Text(text) => text.to_owned(),
            Said::Empty => String::new(),
            Said::Nothing => self
                .known
                .get(column)
                .map(|cell| cell.plain().into_owned())
                .unwrap_or_default(),
        }
    }
}

/// Where a sentence of the register goes over from what is wrong to what to do, and how that part begins.
const TURNS: [(&str, &str); 3] = [(". ", ""), ("; ", ""), (", but must be ", "It must be ")];

/// Splits a sentence of the register into what is wrong and what to do.
fn reason_and_remedy(message: &str) -> (String, String) {
    let mut quoted = false;
    for (at, sign) in message.char_indices() {
        match sign {
            '“' => quoted = true,
            '”' => quoted = false,
            _ if quoted => {}
            _ => {
                let turn = TURNS.iter().find_map(|(turn, begins)| {
                    let remedy = message[at..].strip_prefix(turn)?;
                    Some((*begins, remedy.trim()))
                });
                if let Some((begins, remedy)) = turn {
                    return (format!("{}.", &message[..at]), begun(begins, remedy));
                }
            }
        }
    }
    (message.to_owned(), "Give a value within these limits.".to_owned())
}

fn begun(begins: &str, remedy: &str) -> String {
    if !begins.is_empty() {
        return format!("{begins}{remedy}");
    }
    capital(remedy)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(line: u64) -> Place {
        Place {
            file: "fleet.csv".into(),
            line,
        }
    }

    #[test]
    fn what_is_wrong_and_what_to_do_are_told_apart() {
        let told = reason_and_remedy("Tag “St. John; x” can't be used. Take 1 to 16 letters.");
        assert_eq!(told.0, "Tag “St. John; x” can't be used.");
        assert_eq!(told.1, "Take 1 to 16 letters.");
        let told = reason_and_remedy("“cm” is not a unit; it is one of in, mm.");
        assert_eq!(
            told,
            (
                "“cm” is not a unit.".to_owned(),
                "It is one of in, mm.".to_owned()
            )
        );
    }

    #[test]
    fn the_second_of_two_rows_that_contradict_each_other_is_refused() {
        let mut record = Record::new(place(2));
        assert!(
            record
                .say_again("time_zone", "Europe/Berlin", &place(2), "building")
                .is_ok()
        );
        assert!(
            record
                .say_again("time_zone", "Europe/Berlin ", &place(3), "building")
                .is_ok()
        );
        let refusal = record.say_again("time_zone", "Europe/Paris", &place(4), "building");
        assert!(refusal.is_err_and(
            |problem| problem.line == 4 && problem.reason.contains("Line 2 says “Europe/Berlin”")
        ));
    }

    #[test]
    fn what_is_said_lies_over_what_is_known() {
        let columns = [
            Column::new("a", "", "", ""),
            Column::new("b", "", "", ""),
            Column::new("c", "", "", ""),
        ];
        let mut record = Record::new(place(2));
        record.say("a", "new");
        record.say("b", "");
        let known = ["old", "old", "old"].map(Cell::text);
        let overlay = Overlay::new(Some(&record)).over(&columns, known);
        assert_eq!(
            ["a", "b", "c"].map(|column| overlay.text(column)),
            ["new", "", "old"]
        );
    }
}
