//! `anglestop life`: what remains to one of an age, by a Weibull lifetime. Needs no database.

use clap::{Args, Subcommand};
use serde::Serialize;

use super::figure;
use crate::domain::trade::life::Weibull;
use crate::error::{Error, Result};

/// Options of `life`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// How likely one of an age fails soon, and how long it still lives on average
    Residual(Residual),
}

#[derive(Debug, Args)]
#[command(
    after_help = "All four in the same unit of time.\n\n  anglestop life residual --eta 12 --beta 3 --age 10 --within 2"
)]
struct Residual {
    /// Characteristic life: the age by which 63.2 % have failed
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    eta: String,
    /// Shape: below 1 fails early, 1 at any age alike, above 1 wears out
    #[arg(long, value_name = "SHAPE", allow_hyphen_values = true)]
    beta: String,
    /// Age that it has reached
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    age: String,
    /// How far to look ahead
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    within: String,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Found {
    probability: f64,
    mean_residual: f64,
}

/// Prints what was asked.
///
/// # Errors
/// When a figure can't be reckoned with.
pub fn run(options: &Options) -> Result<()> {
    match &options.what {
        What::Residual(options) => residual(options),
    }
}

fn residual(options: &Residual) -> Result<()> {
    let life =
        Weibull::new(figure("eta", &options.eta)?, figure("beta", &options.beta)?).map_err(Error::refused)?;
    let not_below_nothing = |name: &str, given: &str| {
        let value = figure(name, given)?;
        if value < 0.0 {
            return Err(Error::refused(format!(
                "--{name} is “{}”, but time is not below 0. Give 0 or more, in the unit of --eta.",
                given.trim()
            )));
        }
        Ok(value)
    };
    let age = not_below_nothing("age", &options.age)?;
    let within = not_below_nothing("within", &options.within)?;
    if !life.cumulative_hazard(age).is_finite() {
        return Err(Error::refused(format!(
            "--age is “{}”, so far beyond a characteristic life of {:?} that none is left to ask about. Give a lesser age.",
            options.age.trim(),
            life.eta()
        )));
    }
    let found = Found {
        probability: life.fails_within(age, within),
        mean_residual: life.mean_residual(age),
    };
    if options.json {
        crate::cli::say!("{}", serde_json::to_string(&found).map_err(Error::internal)?);
    } else {
        crate::cli::say!(
            "fails within {}: {:.2} %",
            options.within.trim(),
            found.probability * 100.0
        );
        crate::cli::say!("lives on average {:.3} more", found.mean_residual);
    }
    Ok(())
}
