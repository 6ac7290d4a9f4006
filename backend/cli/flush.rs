//! `anglestop flush`: a run of refill times against what is usual and what the code expects of the supply. Needs no database.

use std::io::Write as _;

use clap::Args;
use serde_json::json;

use super::until_the_pipe_closes;
use crate::domain::code::Coded as _;
use crate::domain::measure::{Ratio, Unit};
use crate::domain::trade::flush::{Judged, Limits, Run, judge};
use crate::error::{Error, Result};
use crate::exchange::catalogue;

/// US gallon in litres, exactly (NIST SP 811, appendix B).
const LITRES_A_GALLON: f64 = 3.785_411_784;

/// Options of `flush`.
#[derive(Debug, Args)]
#[command(
    after_help = "Three to six refills, each from the end of the flush until the valve shuts: seconds, 1:20 or 1 min 20.\n\n  \
    anglestop flush --tank 1.6 --refill 32,33,34\n  anglestop flush --tank '6 L' --refill 45 44 47 --json"
)]
pub struct Options {
    /// What the tank takes for a flush; a bare number is in US gallons
    #[arg(long, value_name = "GAL", allow_hyphen_values = true)]
    tank: String,
    /// Refill times; a bare number is in seconds
    #[arg(
        long,
        value_name = "S,S,S",
        value_delimiter = ',',
        required = true,
        allow_hyphen_values = true
    )]
    refill: Vec<String>,
    /// More refill times, when they are written with spaces
    // A word of its own: an option that takes many words and lets them begin with a minus would swallow the options after it.
    #[arg(value_name = "S", value_delimiter = ',', allow_negative_numbers = true)]
    more: Vec<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Prints the verdict with its reasons and remarks.
///
/// # Errors
/// When the run has too few or too many refills, or a figure can't be read.
pub fn run(options: &Options) -> Result<()> {
    let catalogue = catalogue::builtin().map_err(Error::internal)?;
    let limits = Limits::of(catalogue).map_err(Error::internal)?;
    if options.tank.trim().is_empty() {
        return Err(Error::refused(
            "The tank's volume is empty. Write it, such as --tank 1.6.",
        ));
    }
    let refills = options
        .refill
        .iter()
        .chain(&options.more)
        .map(String::as_str)
        .filter(|text| !text.trim().is_empty());
    let judged = judge(&Run::timed(&options.tank, refills), &limits)
        .map_err(|error| Error::refused(format!("{error}.")))?;
    until_the_pipe_closes(if options.json {
        in_json(&judged, &limits)
    } else {
        in_words(&judged)
    })
}

fn in_json(judged: &Judged, limits: &Limits) -> std::io::Result<()> {
    let flow = judged.flow_gpm();
    let (shortest, longest) = judged.extremes_s();
    let flushes: Vec<_> = judged
        .refills_s
        .iter()
        .map(|refill| {
            json!({
                "refill_s": refill.to_f64(),
                "gallons_per_minute": judged.flow_of(*refill).map(Ratio::to_f64),
            })
        })
        .collect();
    let answer = json!({
        "verdict": judged.verdict.code(),
        "refill": judged.grade.code(),
        "reasons": judged.reasons.iter().map(|reason| &reason.words).collect::<Vec<_>>(),
        "remarks": judged.remarks,
        "mean_s": judged.mean_s.to_f64(),
        "shortest_s": shortest.to_f64(),
        "longest_s": longest.to_f64(),
        "spread_percent": judged.spread_percent.to_f64(),
        "gallons_per_minute": flow,
        "litres_per_minute": flow.map(|flow| flow * LITRES_A_GALLON),
        "expected_gallons_per_minute": limits.supply.in_unit(Unit::GallonPerMinute),
        "expected_s": judged.expected_s.map(Ratio::to_f64),
        "flushes": flushes,
    });
    let mut out = std::io::stdout().lock();
    serde_json::to_writer(&mut out, &answer)?;
    writeln!(out)
}

fn in_words(judged: &Judged) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{}: refills {}, mean {:.1} s, {:.2} gal/min; {:.1} s at the flow the code expects",
        judged.verdict.code(),
        judged.grade.name().to_lowercase(),
        judged.mean_s.to_f64(),
        judged.flow_gpm().unwrap_or_default(),
        judged.expected_s.map_or(0.0, Ratio::to_f64)
    )?;
    for phrase in judged
        .reasons
        .iter()
        .map(|reason| &reason.words)
        .chain(&judged.remarks)
    {
        writeln!(out, "{phrase}")?;
    }
    Ok(())
}
