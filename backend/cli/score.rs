//! `anglestop score`: the published federal deduction method over a CSV of deficiencies. Needs no database.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use super::figure;
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::condition::score::{Area, Score, method_on, score};
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::exchange::csv::score::read;

/// Options of `score`.
#[derive(Debug, Args)]
#[command(
    after_help = "The columns are area (outside, inside or unit), place, deficiency and severity (life_threatening, severe, moderate or \
    low). One deficiency counts once in a unit, once in a building's inside, once outside. It is the method of 88 FR 43371, applied to \
    your own records, and no official score."
)]
pub struct Options {
    /// CSV of what was found
    #[arg(long, value_name = "FILE")]
    deficiencies: PathBuf,
    /// How many units were inspected
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    units_inspected: String,
    /// By the method as it held on this day; today when not given
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    as_of: Option<NaiveDate>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Found<'a> {
    score: f64,
    unit_loss: f64,
    reported: f64,
    passes: bool,
    units_inspected: u32,
    repeats: usize,
    deductions: Vec<Part<'a>>,
}

#[derive(Serialize)]
struct Part<'a> {
    area: &'a str,
    severity: &'a str,
    count: u32,
    weight: f64,
    loss: f64,
}

/// Prints the score.
///
/// # Errors
/// When the file or the number can't be read; nothing is printed then but why.
pub fn run(options: &Options) -> Result<()> {
    let units = units(&options.units_inspected)?;
    let name = options.deficiencies.display().to_string();
    let bytes = std::fs::read(&options.deficiencies)
        .map_err(|cause| Error::refused(format!("{name} can't be read: {cause}.")))?;
    let defects = read(&name, &bytes).map_err(|problems| {
        let lines: Vec<String> = problems
            .iter()
            .map(|problem| {
                format!(
                    "{}, line {}: {} {}",
                    problem.file, problem.line, problem.reason, problem.remedy
                )
            })
            .collect();
        Error::refused(lines.join("\n"))
    })?;
    let known = &catalogue::years().map_err(Error::internal)?.methods;
    let day = options.as_of.unwrap_or_else(|| Now::from_system().0.date());
    let method =
        method_on(known, day).ok_or_else(|| Error::internal("the catalogue has no method of scoring"))?;
    let found = score(method, &defects, units).map_err(Error::refused)?;
    let with_deficiencies = places(&defects);
    if with_deficiencies > units as usize {
        eprintln!(
            "{with_deficiencies} units have deficiencies, but only {units} were inspected; all of them count."
        );
    }
    if options.json {
        crate::cli::say!(
            "{}",
            serde_json::to_string(&told(&found)).map_err(Error::internal)?
        );
    } else {
        print(&found);
    }
    Ok(())
}

fn units(given: &str) -> Result<u32> {
    figure("units-inspected", given)?;
    given
        .trim()
        .parse::<u32>()
        .ok()
        .filter(|units| *units > 0)
        .ok_or_else(|| {
            Error::refused(format!(
                "--units-inspected is “{}”, but must be a whole number, 1 to {}.",
                given.trim(),
                u32::MAX
            ))
        })
}

fn places(defects: &[crate::domain::condition::score::Defect]) -> usize {
    let of_units = defects.iter().filter(|defect| defect.area == Area::Unit);
    let places: std::collections::BTreeSet<_> = of_units.map(|defect| defect.place.as_str()).collect();
    places.len()
}

fn told(found: &Score) -> Found<'_> {
    Found {
        score: found.score,
        unit_loss: found.unit_loss,
        reported: found.reported,
        passes: found.passes,
        units_inspected: found.units_inspected,
        repeats: found.repeats,
        deductions: found
            .deductions
            .iter()
            .map(|part| Part {
                area: part.area.code(),
                severity: part.severity.code(),
                count: part.count,
                weight: part.weight,
                loss: part.loss,
            })
            .collect(),
    }
}

fn print(found: &Score) {
    for part in &found.deductions {
        crate::cli::say!(
            "{:<8} {:<17} {:>4} x {:>4.1} / {} = {:.2}",
            part.area.code(),
            part.severity.code(),
            part.count,
            part.weight,
            found.units_inspected,
            part.loss
        );
    }
    crate::cli::say!("score     {:.2}", found.score);
    crate::cli::say!("unit loss {:.2}", found.unit_loss);
    crate::cli::say!(
        "reported  {:.2}, {}",
        found.reported,
        if found.passes { "passes" } else { "fails" }
    );
    eprintln!("The method of 88 FR 43371, applied to your own records; no official score.");
}
