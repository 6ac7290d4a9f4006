//! `anglestop verify`: proves that what is derived agrees with what is recorded, and that what was signed is unaltered.

mod due;
mod turnover;

use clap::{Args, Subcommand};

use super::Setting;
use crate::error::Result;

/// Options of `verify`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Recompute every due row from the register, the schedules and the results; exit 1 when one differs
    Due(due::Options),
    /// Say whether the signed record of a turnover is unaltered, or a file of one that somebody was given; exit 1 when it is not
    Turnover(turnover::Options),
}

/// Looks and prints the differences.
///
/// # Errors
/// When something differs, what is asked about is not known, or the database does not answer.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    match &options.what {
        What::Due(options) => due::run(setting, options),
        What::Turnover(options) => turnover::run(setting, options),
    }
}
