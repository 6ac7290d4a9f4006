//! `anglestop leak`: water lost a day, from what was counted, timed or read. Needs no database.

use clap::{Args, Subcommand};
use serde::Serialize;

use super::until_the_pipe_closes;
use crate::domain::trade::water::{Loss, Method, measure};
use crate::error::{Error, Result};
use crate::exchange::catalogue;

/// Options of `leak`.
#[derive(Debug, Args)]
#[command(
    arg_required_else_help = true,
    after_help = "Figures are read as people type them; a bare number is in the unit that the option names.\n\n  \
    anglestop leak drips --per-minute 60\n  anglestop leak drips --per-minute 60 --drips-per-gallon 15140\n  \
    anglestop leak cup --ounces 8 --seconds '1 min 20'\n  anglestop leak pinhole --diameter 1/16 --pressure 60\n  \
    anglestop leak tank --length 16 --width 7 --drop '1 1/2' --hours 2\n  anglestop leak cycle --gallons 0.5 --every 12\n  \
    anglestop leak meter --gallons 3 --hours 2 --json"
)]
pub struct Options {
    #[command(subcommand)]
    way: Way,
}

#[derive(Debug, Subcommand)]
enum Way {
    /// Drips that can be counted
    Drips {
        /// Drips in a minute
        #[arg(long, value_name = "N", allow_hyphen_values = true)]
        per_minute: String,
        /// How many drips make a US gallon; 10000 when not given
        #[arg(long, value_name = "N", allow_hyphen_values = true)]
        drips_per_gallon: Option<String>,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// A stream that fills a cup
    Cup {
        /// Fluid ounces caught
        #[arg(long, value_name = "N", allow_hyphen_values = true)]
        ounces: String,
        /// Seconds that it took
        #[arg(long, value_name = "S", allow_hyphen_values = true)]
        seconds: String,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// A round hole in a pipe
    Pinhole {
        /// Across, inches
        #[arg(long, value_name = "IN", allow_hyphen_values = true)]
        diameter: String,
        /// Pounds per square inch
        #[arg(long, value_name = "PSI", allow_hyphen_values = true)]
        pressure: String,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// A tank whose level falls with the stop shut
    Tank {
        /// Inside, left to right, inches
        #[arg(long, value_name = "IN", allow_hyphen_values = true)]
        length: String,
        /// Inside, front to back, inches
        #[arg(long, value_name = "IN", allow_hyphen_values = true)]
        width: String,
        /// How far the level fell, inches
        #[arg(long, value_name = "IN", allow_hyphen_values = true)]
        drop: String,
        /// In how many hours
        #[arg(long, value_name = "H", allow_hyphen_values = true)]
        hours: String,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// A tank that refills by itself
    Cycle {
        /// US gallons of one refill
        #[arg(long, value_name = "G", allow_hyphen_values = true)]
        gallons: String,
        /// Minutes from one refill to the next
        #[arg(long, value_name = "MIN", allow_hyphen_values = true)]
        every: String,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// A meter that moves though nothing runs
    Meter {
        /// US gallons that it moved by
        #[arg(long, value_name = "G", allow_hyphen_values = true)]
        gallons: String,
        /// In how many hours
        #[arg(long, value_name = "H", allow_hyphen_values = true)]
        hours: String,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
}

/// Asks for JSON instead of a line.
#[derive(Debug, Clone, Copy)]
struct Json;

type Typed<'a> = Vec<(&'static str, &'a str)>;

impl Way {
    fn typed(&self) -> (Method, Typed<'_>, Option<Json>) {
        let json = |asked: &bool| asked.then_some(Json);
        match self {
            Self::Drips {
                per_minute,
                drips_per_gallon,
                json: asked,
            } => {
                let mut typed = vec![("per_minute", per_minute.as_str())];
                typed.extend(drips_per_gallon.as_deref().map(|own| ("drips_per_gallon", own)));
                (Method::Drips, typed, json(asked))
            }
            Self::Cup {
                ounces,
                seconds,
                json: asked,
            } => (
                Method::Cup,
                vec![("ounces", ounces), ("seconds", seconds)],
                json(asked),
            ),
            Self::Pinhole {
                diameter,
                pressure,
                json: asked,
            } => (
                Method::Pinhole,
                vec![("diameter", diameter), ("pressure", pressure)],
                json(asked),
            ),
            Self::Tank {
                length,
                width,
                drop,
                hours,
                json: asked,
            } => {
                let typed: Typed<'_> = vec![
                    ("length", length),
                    ("width", width),
                    ("drop", drop),
                    ("hours", hours),
                ];
                (Method::Tank, typed, json(asked))
            }
            Self::Cycle {
                gallons,
                every,
                json: asked,
            } => (
                Method::Cycle,
                vec![("gallons", gallons), ("every", every)],
                json(asked),
            ),
            Self::Meter {
                gallons,
                hours,
                json: asked,
            } => (
                Method::Meter,
                vec![("gallons", gallons), ("hours", hours)],
                json(asked),
            ),
        }
    }
}

#[derive(Debug, Serialize)]
struct Answer<'a> {
    gallons_per_day: f64,
    litres_per_day: f64,
    convention: &'a str,
}

/// Prints the loss.
///
/// # Errors
/// A sentence for each figure that can't be read or can't be meant.
pub fn run(options: &Options) -> Result<()> {
    let (method, typed, json) = options.way.typed();
    let water = &catalogue::builtin().map_err(Error::internal)?.water;
    let given = |name: &str| {
        let found = typed.iter().find(|(known, _)| *known == name);
        match found {
            Some((known, blank)) if *known == "drips_per_gallon" && blank.trim().is_empty() => {
                "nothing".to_owned()
            }
            Some((_, text)) => (*text).to_owned(),
            None => String::new(),
        }
    };
    let loss = measure(method, &given, water).map_err(Error::Fields)?;
    until_the_pipe_closes(write(&loss, json))
}

fn write(loss: &Loss, json: Option<Json>) -> std::io::Result<()> {
    use std::io::Write as _;
    let mut out = std::io::stdout().lock();
    match json {
        Some(Json) => {
            let answer = Answer {
                gallons_per_day: loss.gallons_a_day(),
                litres_per_day: loss.litres_a_day(),
                convention: &loss.convention,
            };
            serde_json::to_writer(&mut out, &answer)?;
            writeln!(out)
        }
        None => writeln!(
            out,
            "{:.2} gal a day, {:.1} L a day ({})",
            loss.gallons_a_day(),
            loss.litres_a_day(),
            loss.convention
        ),
    }
}
