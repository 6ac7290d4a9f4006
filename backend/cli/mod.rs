//! The command line: one file a subcommand. Results go to standard output, words to standard error; exit 0 when done, 1 when
//! refused, 2 when the words of the command are off.

pub mod clearance;
pub mod config;
pub mod demo;
pub mod digest;
pub mod due;
pub mod export;
pub mod flush;
pub mod forecast;
pub mod host;
pub mod import;
pub mod labels;
pub mod leak;
pub mod life;
pub mod migrate;
pub mod occurrences;
pub mod record;
pub mod register;
pub mod score;
pub mod serve;
pub mod turnover;
pub mod user;
pub mod verify;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::actions::setup;
use crate::clock::Now;
use crate::error::{Error, Result};
use crate::store::due::renew_stale;
use crate::store::{DatabaseUrl, Db};

/// Keeps every rental unit's fixtures, makes their checks come due, and proves that they were done.
#[derive(Debug, Parser)]
#[command(name = "anglestop", version, about, arg_required_else_help = true)]
pub struct Arguments {
    /// Where the fleet is kept: sqlite://FILE or postgres://USER@HOST/NAME; else from DATABASE_URL, else sqlite://anglestop.db
    #[arg(long, global = true, value_name = "URL")]
    database: Option<String>,
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Hold the measured clearances of a water closet against a profile
    Clearance(clearance::Options),
    /// Make an invented fleet and serve it on this machine, to look around
    Demo(demo::Options),
    /// List what is due, on any day
    Due(due::Options),
    /// Take in a fleet from a CSV or a folder of CSVs
    Import(import::Options),
    /// Write the fleet and what belongs to it as CSV
    Export(export::Options),
    /// Judge a flush test: refill times against what is usual and what the code expects
    Flush(flush::Options),
    /// Make, list and print the labels of places
    Labels(labels::Options),
    /// Reckon the water lost at a leak, in gallons and litres a day
    Leak(leak::Options),
    /// Bring the tables of the database to this version
    Migrate(migrate::Options),
    /// List the dates on which a rule falls
    Occurrences(occurrences::Options),
    /// Record the answers to checks: one by its options, or many from a CSV
    Record(Box<record::Options>),
    /// Add, change, move, retire and replace buildings, units, fixtures and parts
    Register(Box<register::Options>),
    /// Serve the pages and send the mails
    Serve(serve::Options),
    /// Work on the turnover of a unit, from its opening to the signed record
    Turnover(turnover::Options),
    /// Write each technician's morning mail, or show it
    Digest(digest::Options),
    /// Show what this process would run with, and change the office's own values
    Config(config::Options),
    /// Add, list, invite and disable people, and set their passwords
    User(user::Options),
    /// Say what of a building will have to be replaced in the years ahead
    Forecast(forecast::Options),
    /// Score deficiencies by the published federal method
    Score(score::Options),
    /// Say how long one of an age is likely to last
    Life(life::Options),
    /// Prove that what is derived agrees with what is recorded
    Verify(verify::Options),
}

/// What every subcommand is given.
pub struct Setting {
    /// The `--database` flag as typed.
    pub database: Option<String>,
}

impl Setting {
    /// Opens the database and brings its tables, the built-in checks in it, and every due row to this version.
    ///
    /// # Errors
    /// When it can't be opened or was made by a newer version.
    pub fn open(&self) -> Result<Db> {
        let db = self.open_to_serve()?;
        renew_stale(&db)?;
        Ok(db)
    }

    /// As [`Setting::open`], for a server, whose clockwork renews what due rows an interrupted change left stale.
    ///
    /// # Errors
    /// As [`Setting::open`].
    pub fn open_to_serve(&self) -> Result<Db> {
        let db = Db::open(&crate::config::database(self.database.as_deref())?)?;
        setup::prepare(&db, Now::from_system())?;
        Ok(db)
    }
}

impl Setting {
    /// Opens a database that must be there already: a mistyped path is told, not made into an empty fleet.
    ///
    /// # Errors
    /// As [`Setting::open`], and when there is no such file.
    pub fn open_there(&self) -> Result<Db> {
        if let DatabaseUrl::Sqlite(file) = crate::config::database(self.database.as_deref())?
            && !file.exists()
        {
            return Err(Error::refused(format!(
                "There is no fleet at {}. Give its file with --database sqlite://FILE or in DATABASE_URL; anglestop import and anglestop serve make a new one.",
                file.display()
            )));
        }
        self.open()
    }
}

/// Writes to standard output; a reader that went away (`| head`) is no fault, and what it left unread is dropped.
pub(crate) fn written(words: std::fmt::Arguments<'_>) {
    use std::io::Write as _;
    if let Err(cause) = std::io::stdout().lock().write_fmt(words)
        && cause.kind() != std::io::ErrorKind::BrokenPipe
    {
        eprintln!("The results can't be written: {cause}.");
    }
}

/// A line of results.
macro_rules! say {
    () => { $crate::cli::written(format_args!("\n")) };
    ($($words:tt)*) => { $crate::cli::written(format_args!("{}\n", format_args!($($words)*))) };
}
pub(crate) use say;

/// Reads a date of the command line.
fn date(given: &str) -> std::result::Result<chrono::NaiveDate, String> {
    given.trim().parse().map_err(|_unreadable| {
        "there is no such day; write year, month and day, such as 2026-11-25".to_owned()
    })
}

/// Results that nobody reads any more (`| head`) are no fault.
fn until_the_pipe_closes(written: std::io::Result<()>) -> Result<()> {
    match written {
        Err(cause) if cause.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        other => Ok(other?),
    }
}

/// A figure of an option, as typed.
fn figure(option: &str, given: &str) -> Result<f64> {
    let value = given.trim().parse::<f64>().ok().filter(|value| value.is_finite());
    value.ok_or_else(|| {
        crate::error::Error::refused(format!(
            "--{option} is “{given}”, which is no figure. Write it with a point, such as 2.5."
        ))
    })
}

/// Runs a command line and answers with the exit code.
#[must_use]
pub fn run(arguments: Arguments) -> ExitCode {
    let setting = Setting {
        database: arguments.database,
    };
    let done = match arguments.command {
        Command::Clearance(options) => clearance::run(&options),
        Command::Demo(options) => demo::run(&setting, &options),
        Command::Due(options) => due::run(&setting, &options),
        Command::Import(options) => import::run(&setting, &options),
        Command::Export(options) => export::run(&setting, &options),
        Command::Flush(options) => flush::run(&options),
        Command::Labels(options) => labels::run(&setting, &options),
        Command::Leak(options) => leak::run(&options),
        Command::Migrate(options) => migrate::run(&setting, &options),
        Command::Occurrences(options) => occurrences::run(&options),
        Command::Record(options) => record::run(&setting, &options),
        Command::Register(options) => register::run(&setting, &options),
        Command::Serve(options) => serve::run(&setting, &options),
        Command::Turnover(options) => turnover::run(&setting, &options),
        Command::Digest(options) => digest::run(&setting, &options),
        Command::Config(options) => config::run(&setting, &options),
        Command::User(options) => user::run(&setting, &options),
        Command::Forecast(options) => forecast::run(&setting, &options),
        Command::Score(options) => score::run(&options),
        Command::Life(options) => life::run(&options),
        Command::Verify(options) => verify::run(&setting, &options),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            tracing::debug!(?error);
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}
