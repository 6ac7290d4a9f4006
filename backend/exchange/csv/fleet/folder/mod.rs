//! The fleet as a folder of CSVs, read: each file says one kind of thing, each row one of them, and a blank says that there is none.

mod gathering;
mod writer;

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

pub use writer::FolderWriter;

use super::columns::{BUILDING, FolderFile, PORTFOLIO, PORTFOLIO_NAME, ROOM, TAG, UNIT};
use super::header;
use super::record::{Place, Record};
use super::settle::{Context, Reading};
use super::statement::Statement;
use crate::domain::register::{PortfolioFacts, PortfolioText};
use crate::exchange::csv::text::unguard;
use crate::exchange::csv::{At, Column, Problem, Row, Sheet};
use gathering::Gathering;

/// The files that were opened.
pub struct Folder<'f> {
    sheets: HashMap<FolderFile, Indexed<'f>>,
    buildings: Vec<String>,
    mentioned: HashSet<String>,
}

/// A file and its rows by building.
struct Indexed<'f> {
    sheet: Sheet<'f>,
    file: Arc<str>,
    rows: HashMap<String, Vec<At>>,
}

/// The columns that a row must fill in to be of use: what it belongs to.
fn keys(file: FolderFile) -> &'static [Column] {
    const UNIT_KEYS: [Column; 2] = [BUILDING, UNIT];
    const ROOM_KEYS: [Column; 3] = [BUILDING, UNIT, ROOM];
    const TAG_KEYS: [Column; 3] = [BUILDING, UNIT, TAG];
    match file {
        FolderFile::Portfolios => &[PORTFOLIO],
        FolderFile::Buildings => &[BUILDING],
        FolderFile::Units | FolderFile::Households => &UNIT_KEYS,
        FolderFile::Rooms => &ROOM_KEYS,
        FolderFile::Tags | FolderFile::Fixtures | FolderFile::Parts | FolderFile::PriorDone => &TAG_KEYS,
    }
}

impl<'f> Folder<'f> {
    /// Opens files, each by what it is; what is wrong with one as a whole is put into `reading`.
    #[must_use]
    pub fn open(files: &[(FolderFile, &'f str, &'f [u8])], reading: &mut Reading) -> Self {
        let mut folder = Self {
            sheets: HashMap::new(),
            buildings: Vec::new(),
            mentioned: HashSet::new(),
        };
        for &(file, name, bytes) in files {
            match Sheet::open(name, bytes) {
                Ok(sheet) => folder.add(file, name, sheet, reading),
                Err(problem) => reading.problems.push(problem),
            }
        }
        folder.portfolios(reading);
        folder
    }

    fn add(&mut self, file: FolderFile, name: &str, sheet: Sheet<'f>, reading: &mut Reading) {
        let needed: Vec<&str> = keys(file).iter().map(|column| column.name).collect();
        header::check(&sheet, &file.columns(), &needed, None, reading);
        let mut rows: HashMap<String, Vec<At>> = HashMap::new();
        let mut problems = Vec::new();
        let uneven = sheet.each(|row| {
            let missing = needed.iter().find(|column| {
                sheet
                    .column(column)
                    .is_some_and(|index| row.cell(index).trim().is_empty())
            });
            if let Some(column) = missing {
                problems.push(Problem::new(
                    name,
                    row.at.line,
                    column,
                    "",
                    format!("The row names no {column}."),
                    format!("Fill in {column}, or take the row out."),
                ));
                return;
            }
            let code = text(&sheet, &row, needed.first().copied().unwrap_or_default()).to_uppercase();
            if file != FolderFile::Portfolios && self.mentioned.insert(code.clone()) {
                self.buildings.push(code.clone());
            }
            rows.entry(code).or_default().push(row.at);
        });
        reading.problems.extend(uneven);
        reading.problems.extend(problems);
        let file_name = Arc::from(name);
        let indexed = Indexed {
            sheet,
            file: file_name,
            rows,
        };
        self.sheets.insert(file, indexed);
    }

    /// The codes of the buildings it speaks of, in the order in which they are first mentioned.
    #[must_use]
    pub fn buildings(&self) -> &[String] {
        &self.buildings
    }

    /// Says the portfolios, also those without a building.
    fn portfolios(&self, reading: &mut Reading) {
        let Some(portfolios) = self.sheets.get(&FolderFile::Portfolios) else {
            return;
        };
        for code in portfolios.rows.keys() {
            portfolios.each(code, &[PORTFOLIO, PORTFOLIO_NAME], |_, record| {
                let text = PortfolioText {
                    code: record.text("portfolio").to_owned(),
                    name: record.text("portfolio_name").to_owned(),
                };
                match PortfolioFacts::read(&text) {
                    Ok(facts) => {
                        let again = reading.portfolios.say(&facts.code, Some(facts.name), &record);
                        reading.problems.extend(again);
                    }
                    Err(errors) => {
                        let columns = [("code", "portfolio"), ("name", "portfolio_name")];
                        reading.problems.extend(record.problems_of(&errors, &columns));
                    }
                }
            });
        }
    }

    /// What it says of one building.
    #[must_use]
    pub fn statement(&self, code: &str, reading: &mut Reading) -> Statement {
        let first = FolderFile::ALL.iter().skip(1).find_map(|file| {
            let indexed = self.sheets.get(file)?;
            let at = indexed.rows.get(code)?.first()?;
            Some(indexed.place(at.line))
        });
        let place = first.unwrap_or_else(|| Place {
            file: Arc::from("buildings.csv"),
            line: 1,
        });
        let statement = Statement {
            code: code.to_owned(),
            building: None,
            portfolio: None,
            place,
            units: Vec::new(),
        };
        let mut gathering = Gathering {
            folder: self,
            statement,
            units: HashMap::new(),
            tags: HashMap::new(),
            problems: Vec::new(),
        };
        gathering.all();
        reading.problems.append(&mut gathering.problems);
        gathering.statement
    }
}

fn text<'r>(sheet: &Sheet<'_>, row: &'r Row<'_>, column: &str) -> &'r str {
    sheet
        .column(column)
        .map_or("", |index| unguard(row.cell(index).trim()))
}

impl Indexed<'_> {
    fn place(&self, line: u64) -> Place {
        Place {
            file: Arc::clone(&self.file),
            line,
        }
    }

    /// Gives each row of a building as a record of these columns, as far as the file has them.
    fn each(&self, building: &str, columns: &[Column], mut take: impl FnMut(&Row<'_>, Record)) {
        let rows = self.rows.get(building).map(Vec::as_slice).unwrap_or_default();
        let at: Vec<(usize, &'static str)> = columns
            .iter()
            .filter_map(|column| Some((self.sheet.column(column.name)?, column.name)))
            .collect();
        self.sheet.again(rows, |row| {
            let mut record = Record::new(self.place(row.at.line));
            for &(index, name) in &at {
                record.say(name, unguard(row.cell(index)));
            }
            take(&row, record);
        });
    }
}

/// Tells last-done days of checks that there are not; the one CSV tells it of a column.
pub(super) fn unknown_checks(statement: &Statement, context: &Context, reading: &mut Reading) {
    let tags = statement.units.iter().flat_map(|unit| &unit.tags);
    for prior in tags.flat_map(|tag| &tag.prior_done) {
        if !context.checks.contains_key(&prior.check) {
            reading.problems.push(Problem::new(
                &prior.place.file,
                prior.place.line,
                "check",
                &prior.check,
                format!("There is no check “{}”.", prior.check),
                "Name a check that there is, or add yours first.",
            ));
        }
    }
}
