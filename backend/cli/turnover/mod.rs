//! `anglestop turnover`: everything that can be done with a turnover, from opening to the signed record.

mod list;
mod paper;
mod record;
mod show;
mod steps;
mod which;

use clap::{Args, Subcommand};

use super::Setting;
use crate::error::Result;

/// Options of `turnover`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  anglestop turnover open --building ALDER --unit 204 --move-out 2026-11-27 --move-in 2026-12-05
  anglestop turnover record --building ALDER --unit 204 --fixture WC-1 --check wc_seat --outcome pass
  anglestop turnover advance --building ALDER --unit 204
  anglestop turnover waive --building ALDER --unit 204 --deficiency 12 --reason 'Valve ordered' --name 'O. Brandt' --until 2026-12-20
  anglestop turnover close --building ALDER --unit 204 --name 'R. Vance'
  anglestop turnover paper --building ALDER --unit 204 --form pdf --output record.pdf

A turnover goes from as found to repaired, ready and moved in. What keeps a step back is said in sentences; a life-threatening
deficiency is never waived, and the unit stays off line until its re-check passed.")]
pub struct Options {
    #[command(subcommand)]
    act: Act,
}

#[derive(Debug, Subcommand)]
enum Act {
    /// Open a turnover of a unit
    Open(steps::Open),
    /// List turnovers with what keeps each back
    List(list::Options),
    /// Show a turnover: its steps, its checklist in the order of the walk, its answers
    Show(show::Options),
    /// Record answers in a turnover
    Record(record::Options),
    /// Bring a turnover to its next stage
    Advance(steps::Advance),
    /// Let a severe deficiency stand at move-in, until a day
    Waive(steps::Waive),
    /// Close a ready turnover with a signed name, which makes its record
    Close(steps::Close),
    /// Give a turnover up
    Cancel(steps::Cancel),
    /// Write the signed record, byte for byte, to standard output or a file: page, PDF, the household's copy
    Paper(paper::Options),
}

/// Runs one of the acts.
///
/// # Errors
/// A sentence that says what keeps it back; then nothing was stored.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    match &options.act {
        Act::Open(options) => steps::open(&db, options),
        Act::List(options) => list::run(&db, options),
        Act::Show(options) => show::run(&db, options),
        Act::Record(options) => record::run(&db, options),
        Act::Advance(options) => steps::advance(&db, options),
        Act::Waive(options) => steps::waive(&db, options),
        Act::Close(options) => steps::close(&db, options),
        Act::Cancel(options) => steps::cancel(&db, options),
        Act::Paper(options) => paper::run(&db, options),
    }
}
