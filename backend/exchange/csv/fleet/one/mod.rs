//! The fleet as one CSV: a row a fixture, building and unit repeated. Decides which cells speak of what, and refuses rows that
//! contradict each other; what a value means is settled elsewhere.

mod gathering;
mod writer;

use std::collections::HashMap;
use std::sync::Arc;

pub use writer::OneWriter;

use super::columns::{
    BUILDING, BUILDING_FACTS, FIXTURE, LAST_DONE, NOTE, PARTS, PORTFOLIO, PORTFOLIO_NAME, ROOM, ROOM_ORDER,
    TAG, UNIT, UNIT_FACTS, one,
};
use super::header;
use super::record::{Place, Record};
use super::settle::{Context, Reading};
use super::statement::Statement;
use crate::domain::code::Coded;
use crate::domain::register::inventory::PriorCheck;
use crate::domain::trade::PartKind;
use crate::exchange::csv::text::unguard;
use crate::exchange::csv::{At, Column, Problem, Row, Sheet};
use gathering::Gathering;

/// The cell that says that there is none.
const NONE: &str = "-";

/// A file that was opened and whose rows are known by building.
pub struct OneFile<'f> {
    sheet: Sheet<'f>,
    file: Arc<str>,
    at: Columns,
    buildings: Vec<String>,
    rows: HashMap<String, Vec<At>>,
}

/// Where the columns stand.
struct Columns {
    building: Option<usize>,
    unit: Option<usize>,
    room: Option<usize>,
    tag: Option<usize>,
    portfolio: Vec<(usize, &'static str)>,
    building_facts: Vec<(usize, &'static str)>,
    unit_facts: Vec<(usize, &'static str)>,
    room_order: Vec<(usize, &'static str)>,
    fixture: Vec<(usize, &'static str)>,
    prior: Vec<(usize, PriorCheck)>,
}

impl Columns {
    fn of(sheet: &Sheet<'_>, prior: Vec<(usize, PriorCheck)>) -> Self {
        let group = |columns: &[Column]| {
            columns
                .iter()
                .filter_map(|column| Some((sheet.column(column.name)?, column.name)))
                .collect()
        };
        let fixture = [&FIXTURE[..], &[PARTS, NOTE]].concat();
        Self {
            building: sheet.column(BUILDING.name),
            unit: sheet.column(UNIT.name),
            room: sheet.column(ROOM.name),
            tag: sheet.column(TAG.name),
            portfolio: group(&[PORTFOLIO, PORTFOLIO_NAME]),
            building_facts: group(&BUILDING_FACTS),
            unit_facts: group(&UNIT_FACTS),
            room_order: group(&[ROOM_ORDER]),
            fixture: group(&fixture),
            prior,
        }
    }
}

fn key<'r>(row: &'r Row<'_>, index: Option<usize>) -> &'r str {
    index.map_or("", |index| unguard(row.cell(index).trim()))
}

/// The cells of a group that say something; `-` says that there is none.
fn said<'r>(
    row: &'r Row<'_>,
    group: &'r [(usize, &'static str)],
) -> impl Iterator<Item = (&'static str, &'r str)> {
    group.iter().filter_map(|&(index, name)| {
        let cell = row.cell(index);
        match cell.trim() {
            "" => None,
            NONE => Some((name, "")),
            _ => Some((name, unguard(cell))),
        }
    })
}

impl<'f> OneFile<'f> {
    /// Opens a file; what is wrong with it as a whole is put into `reading`.
    #[must_use]
    pub fn open(name: &'f str, bytes: &'f [u8], context: &Context, reading: &mut Reading) -> Option<Self> {
        let sheet = Sheet::open(name, bytes)
            .map_err(|problem| reading.problems.push(problem))
            .ok()?;
        let prior = header::check(&sheet, &one(), &[BUILDING.name], Some(context), reading);
        let at = Columns::of(&sheet, prior);
        let mut file = Self {
            file: Arc::from(name),
            at,
            buildings: Vec::new(),
            rows: HashMap::new(),
            sheet,
        };
        file.index(reading);
        Some(file)
    }

    fn index(&mut self, reading: &mut Reading) {
        let Self {
            sheet,
            at,
            buildings,
            rows,
            ..
        } = self;
        let mut nameless = Vec::new();
        let uneven = sheet.each(|row| {
            let code = key(&row, at.building).to_uppercase();
            if code.is_empty() {
                nameless.push(row.at.line);
                return;
            }
            match rows.get_mut(&code) {
                Some(known) => known.push(row.at),
                None => {
                    buildings.push(code.clone());
                    rows.insert(code, vec![row.at]);
                }
            }
        });
        reading.problems.extend(uneven);
        if at.building.is_some() {
            reading.problems.extend(nameless.into_iter().map(|line| {
                Problem::new(
                    &self.file,
                    line,
                    BUILDING.name,
                    "",
                    "The row names no building.",
                    "Give the building's code in every row, or take the row out.",
                )
            }));
        }
    }

    /// The codes of the buildings it speaks of, in the order in which they are first mentioned.
    #[must_use]
    pub fn buildings(&self) -> &[String] {
        &self.buildings
    }

    /// What it says of one building.
    #[must_use]
    pub fn statement(&self, code: &str, reading: &mut Reading) -> Statement {
        let rows = self.rows.get(code).map(Vec::as_slice).unwrap_or_default();
        let first = self.place(rows.first().map_or(1, |at| at.line));
        let mut gathering = Gathering {
            file: self,
            statement: Statement {
                code: code.to_owned(),
                building: Some(Record::new(first.clone())),
                portfolio: Some(Record::new(first.clone())),
                place: first,
                units: Vec::new(),
            },
            units: HashMap::new(),
            tags: HashMap::new(),
            problems: Vec::new(),
        };
        self.sheet.again(rows, |row| gathering.take(&row));
        reading.problems.append(&mut gathering.problems);
        gathering.statement
    }

    fn place(&self, line: u64) -> Place {
        Place {
            file: Arc::clone(&self.file),
            line,
        }
    }
}

/// The name of a column with last-done days.
#[must_use]
pub fn last_done_column(check: &PriorCheck) -> String {
    match check.part {
        None => format!("{LAST_DONE}{}", check.check),
        Some(part) => format!("{LAST_DONE}{}:{}", check.check, part.code()),
    }
}

/// Reads the rest of such a name, after `last_done:`.
///
/// # Errors
/// When the part is none that there is.
pub fn read_last_done(rest: &str) -> Result<PriorCheck, String> {
    let (check, part) = rest.split_once(':').unwrap_or((rest, ""));
    let part = match part.trim() {
        "" => None,
        code => Some(PartKind::from_code(code)?),
    };
    Ok(PriorCheck {
        check: check.trim().to_owned(),
        part,
    })
}
