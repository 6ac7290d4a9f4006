//! `anglestop due`: what is due on any day, straight from the ground state.

mod line;
mod list;
mod table;

use std::io::{BufWriter, Write, stdout};

use chrono::NaiveDate;
use clap::{Args, ValueEnum};

use super::{Setting, until_the_pipe_closes};
use crate::clock::Now;
use crate::domain::due::{Book, State};
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, ScheduleId};
use crate::error::{Error, Result};
use crate::exchange::csv::Audience;
use crate::exchange::due_line;
use crate::store::{AnyConnection, buildings, schedules};
use list::DueList;

/// Options of `due`.
#[derive(Debug, Args)]
#[command(
    after_help = "A check opens so many days before its due date, and is overdue after its days of grace:\n\
    \n  later      its window has not opened yet\
    \n  in_window  from the day it opens\
    \n  due        from the due date\
    \n  overdue    after the last day of grace\n\
    \nResults, fixtures and parts are taken as they were on the date; schedules and checks as they are now.\n\
    Exit code 0 whatever is due, 1 when something in the command can't be done."
)]
pub struct Options {
    /// The day to ask about, such as 2026-09-01; each building's own today when not given
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    as_of: Option<NaiveDate>,
    /// Only this building, by its code; repeat it for several; every building when not given
    #[arg(long, value_name = "CODE")]
    building: Vec<String>,
    /// Only what this schedule asks for first, by its code; repeat it for several; every schedule when not given
    #[arg(long, value_name = "CODE")]
    schedule: Vec<String>,
    /// Only what is in this state on that day; repeat it for several; in_window, due and overdue when not given
    #[arg(long, value_name = "STATE")]
    state: Vec<StateWord>,
    /// How to write it; the fields of csv and json are the same
    #[arg(long, default_value = "table")]
    format: Format,
    /// The same as --format json
    #[arg(long, conflicts_with = "format")]
    json: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum StateWord {
    /// Its window has not opened yet
    Later,
    /// The window is open, the due date not yet there
    #[value(name = "in_window")]
    InWindow,
    /// The due date is there, the days of grace not over
    Due,
    /// After the last day of grace
    Overdue,
    /// Every state
    All,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    Table,
    Csv,
    Json,
}

impl StateWord {
    fn states(self) -> &'static [State] {
        match self {
            Self::Later => &[State::Later],
            Self::InWindow => &[State::InWindow],
            Self::Due => &[State::Due],
            Self::Overdue => &[State::Overdue],
            Self::All => &State::ALL,
        }
    }
}

impl Options {
    fn states(&self) -> Vec<State> {
        if self.state.is_empty() {
            return vec![State::InWindow, State::Due, State::Overdue];
        }
        self.state
            .iter()
            .flat_map(|word| word.states())
            .copied()
            .collect()
    }
}

/// Prints what is due.
///
/// # Errors
/// When a building is not known or the database does not answer.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    let now = Now::from_system();
    let states = options.states();
    let mut list = db.read(|conn| {
        let chosen = chosen(conn, &options.building)?;
        let book = schedules::book(conn)?;
        let asking = asking(&book, &options.schedule)?;
        let mut list = DueList::new(book, states, asking);
        for building in chosen {
            let day = options
                .as_of
                .unwrap_or_else(|| now.date_in(building.facts.time_zone));
            list.add(conn, &building, day)?;
        }
        Ok(list)
    })?;
    list.sort();
    let format = if options.json {
        Format::Json
    } else {
        options.format
    };
    until_the_pipe_closes(write(&list, format))?;
    if format == Format::Table && list.is_empty() {
        eprintln!("Nothing is due there in that state. See later ones with --state all.");
    }
    Ok(())
}

/// The schedules with these codes; none when none is given, which stands for all.
fn asking(book: &Book, codes: &[String]) -> Result<Vec<ScheduleId>> {
    let find = |code: &String| {
        let found = book
            .schedules()
            .find(|schedule| schedule.terms.code == code.trim());
        found.map(|schedule| schedule.id).ok_or_else(|| {
            Error::refused(format!(
                "No schedule has the code {code}. See them with: anglestop export schedules"
            ))
        })
    };
    codes.iter().map(find).collect()
}

fn write(list: &DueList, format: Format) -> std::io::Result<()> {
    let mut out = BufWriter::new(stdout().lock());
    match format {
        Format::Table => table::write(&mut out, list)?,
        Format::Csv => due_line::write_csv(&mut out, Audience::Program, list.lines())?,
        Format::Json => due_line::write_json(&mut out, list.lines())?,
    }
    out.flush()
}

/// The buildings with these codes, capitals or not; all when none is given.
pub(super) fn chosen(conn: &mut AnyConnection, codes: &[String]) -> Result<Vec<Building>> {
    let mut all = buildings::list(conn, &Scope::All)?;
    if codes.is_empty() {
        return Ok(all);
    }
    let wanted: Vec<String> = codes.iter().map(|code| code.trim().to_uppercase()).collect();
    let unknown = wanted
        .iter()
        .find(|code| all.iter().all(|building| building.facts.code != **code));
    if let Some(code) = unknown {
        let known: Vec<&str> = all
            .iter()
            .take(12)
            .map(|building| building.facts.code.as_str())
            .collect();
        let known = match (known.len(), all.len()) {
            (0, _) => "There are no buildings yet; import a fleet first.".to_owned(),
            (shown, total) if shown < total => {
                format!("There are {total}, among them {}.", known.join(", "))
            }
            _ => format!("There are {}.", known.join(", ")),
        };
        return Err(Error::refused(format!(
            "No building has the code {code}. {known}"
        )));
    }
    all.retain(|building| wanted.contains(&building.facts.code));
    Ok(all)
}
