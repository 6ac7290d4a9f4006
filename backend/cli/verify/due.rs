//! `anglestop verify due`: every due row against what it is derived from.

use std::collections::HashMap;
use std::io::{BufWriter, Write, stdout};

use clap::Args;
use serde::Serialize;

use crate::cli::{Setting, due, until_the_pipe_closes};
use crate::domain::due::Book;
use crate::domain::register::{Building, CheckId};
use crate::error::{Error, Result};
use crate::language;
use crate::store::due::{Difference, Labels, differences, labels, mark_stale, renew_stale};
use crate::store::{AnyConnection, schedules};

/// Options of `verify due`.
#[derive(Debug, Args)]
pub struct Options {
    /// Only this building, by its code; repeat it for several; every building when not given
    #[arg(long, value_name = "CODE")]
    building: Vec<String>,
    /// Print the differences as a JSON array
    #[arg(long)]
    json: bool,
    /// When a row differs, write all of them anew; the exit code is still 1
    #[arg(long)]
    renew: bool,
}

/// A difference with the labels that people know.
#[derive(Serialize)]
struct Line<'a> {
    building: &'a str,
    unit: &'a str,
    fixture: &'a str,
    part: Option<&'a str>,
    check: &'a str,
    stored: Option<&'a str>,
    computed: Option<&'a str>,
}

struct Found {
    building: Building,
    book: Book,
    differences: Vec<Difference>,
    labels: HashMap<i64, Labels>,
}

impl Found {
    fn look(conn: &mut AnyConnection, building: Building) -> Result<Self> {
        let book = schedules::book(conn)?;
        let differences = differences(conn, &book, building.id)?;
        let fixtures: Vec<i64> = differences.iter().map(|difference| difference.fixture).collect();
        Ok(Self {
            labels: labels(conn, &fixtures)?,
            building,
            book,
            differences,
        })
    }
}

/// Compares and prints the differences.
///
/// # Errors
/// When one row differs, a building is not known or the database does not answer.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    let buildings = db.read(|conn| due::chosen(conn, &options.building))?;
    let seen = buildings.len();
    let mut found = Vec::new();
    for building in buildings {
        // One snapshot a building, schedules included, so that a change meanwhile is no difference.
        let of_building = db.read(|conn| Found::look(conn, building))?;
        if !of_building.differences.is_empty() {
            found.push(of_building);
        }
    }
    let count: usize = found.iter().map(|found| found.differences.len()).sum();
    until_the_pipe_closes(write(&found, options.json.then_some(Json)))?;
    if seen == 0 {
        eprintln!("There are no buildings yet, so there is no due row to look at.");
        return Ok(());
    }
    if count == 0 {
        let buildings = language::count(seen, "building", "buildings");
        eprintln!("Every due row agrees with the ground state, {buildings}.");
        return Ok(());
    }
    let rows = language::count(count, "due row does", "due rows do");
    if options.renew {
        db.write(mark_stale)?;
        renew_stale(&db)?;
        return Err(Error::refused(format!(
            "{rows} not agree with the ground state. All were written anew; run it again to see that they agree now."
        )));
    }
    Err(Error::refused(format!(
        "{rows} not agree with the ground state. Run it again with --renew to write them anew."
    )))
}

/// Asks for a JSON array instead of lines.
#[derive(Debug, Clone, Copy)]
struct Json;

fn write(found: &[Found], json: Option<Json>) -> std::io::Result<()> {
    let mut out = BufWriter::new(stdout().lock());
    let lines = found
        .iter()
        .flat_map(|found| found.differences.iter().map(|difference| line(found, difference)));
    match json {
        Some(Json) => {
            serde_json::to_writer_pretty(&mut out, &lines.collect::<Vec<_>>())?;
            writeln!(out)?;
        }
        None => {
            for line in lines {
                let part = line.part.map(|part| format!(" {part}")).unwrap_or_default();
                writeln!(
                    out,
                    "{} {} {}{part} {}",
                    line.building, line.unit, line.fixture, line.check
                )?;
                writeln!(out, "  stored    {}", line.stored.unwrap_or("no row"))?;
                writeln!(out, "  computed  {}", line.computed.unwrap_or("no row"))?;
            }
        }
    }
    out.flush()
}

fn line<'a>(found: &'a Found, difference: &'a Difference) -> Line<'a> {
    let labels = found.labels.get(&difference.fixture);
    Line {
        building: &found.building.facts.code,
        unit: labels.map_or("?", |labels| labels.unit.as_str()),
        fixture: labels.map_or("?", |labels| labels.tag.as_str()),
        part: Some(difference.part.as_str()).filter(|part| !part.is_empty()),
        check: found
            .book
            .check(CheckId(difference.check))
            .map_or("?", |asked| asked.check.code.as_str()),
        stored: difference.stored.as_deref(),
        computed: difference.computed.as_deref(),
    }
}
