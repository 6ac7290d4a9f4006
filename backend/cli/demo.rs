//! `anglestop demo`: an invented fleet in a folder, served on loopback, with sign-in by one click.

use std::io::{IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::Args;

use super::{Setting, host};
use crate::actions::{self, setup};
use crate::clock::{Clock, Now};
use crate::config::Outgoing;
use crate::demo::Scenario;
use crate::error::{Error, Result};
use crate::store::{DatabaseUrl, Db};
use crate::web::{App, Mode, Settings};

/// Options of `demo`.
#[derive(Debug, Args)]
pub struct Options {
    /// Folder of the demo; a fresh one in the system's temporary folder when not given
    #[arg(long)]
    dir: Option<PathBuf>,
    /// Rental units, 10 to 100,000
    #[arg(long, default_value_t = 240)]
    units: usize,
    /// The same seed gives the same fleet
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// The day on which the fleet is looked at; today when not given
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    as_of: Option<NaiveDate>,
    /// Make the fleet and stop
    #[arg(long)]
    no_serve: bool,
    /// Port on 127.0.0.1; a spare one when not given
    #[arg(long, default_value_t = 0)]
    port: u16,
}

/// Makes the fleet and serves it.
///
/// # Errors
/// When the folder has a fleet of another scenario, or the database refuses.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let clock = options.as_of.map_or(Clock::System, clock_on);
    let now = clock.now();
    let scenario = Scenario::new(
        options.units,
        options.seed,
        options.as_of.unwrap_or_else(|| now.0.date()),
    )
    .map_err(|sentence| Error::field("--units", sentence))?;
    let folder = folder(options.dir.as_deref(), now)?;
    let url = match &setting.database {
        Some(url) => url
            .parse()
            .map_err(|sentence| Error::field("--database", sentence))?,
        None => DatabaseUrl::Sqlite(folder.join("anglestop.db")),
    };
    let db = Db::open(&url)?;
    setup::prepare(&db, now)?;
    if !options.no_serve && actions::demo::is_made(&db)? {
        eprintln!("The demo in {} is served as it was left.", folder.display());
    } else {
        make(&db, now, &scenario)?;
        eprintln!("The demo lies in {}", folder.display());
    }
    if options.no_serve {
        return Ok(());
    }
    serve(db, clock, &folder, options.port)
}

fn make(db: &Db, now: Now, scenario: &Scenario) -> Result<()> {
    let shows_progress = std::io::stderr().is_terminal();
    actions::demo::make(db, now, scenario, |made, all| {
        if shows_progress {
            eprint!("\rmaking the fleet: {made} of {all} units ");
            drop(std::io::stderr().flush());
        }
    })?;
    if shows_progress {
        eprintln!();
    }
    Ok(())
}

/// A clock that reads four in the afternoon (UTC) of a day now and goes on from there: working hours in all zones of the demo.
fn clock_on(day: NaiveDate) -> Clock {
    let afternoon = day.and_time(chrono::NaiveTime::MIN) + chrono::TimeDelta::hours(16);
    Clock::Shifted(afternoon - Now::from_system().0)
}

fn folder(given: Option<&Path>, now: Now) -> Result<PathBuf> {
    let folder = match given {
        Some(folder) => folder.to_owned(),
        None => std::env::temp_dir().join(format!("anglestop-demo-{}", now.0.format("%Y%m%d-%H%M%S%3f"))),
    };
    std::fs::create_dir_all(&folder).map_err(|cause| {
        Error::refused(format!(
            "The folder {} can't be made: {cause}. Give another with --dir.",
            folder.display()
        ))
    })?;
    Ok(folder)
}

fn serve(db: Db, clock: Clock, folder: &Path, port: u16) -> Result<()> {
    let listener = host::listen(&format!("127.0.0.1:{port}"))?;
    let address = listener.local_addr()?;
    let outgoing = Outgoing::Folder {
        folder: folder.join("mail"),
        from: "Brindle office <office@brindle-office.example>".to_owned(),
    };
    let mailer = host::mailer(&outgoing)?;
    let settings = Settings {
        public_url: format!("http://{address}"),
        mode: Mode::Demo,
    };
    crate::cli::say!("http://{address}");
    eprintln!(
        "Open the address above. Mails are written to {}. Stop with Ctrl-C.",
        folder.join("mail").display()
    );
    host::run(App::new(db, clock, settings), listener, mailer)
}
