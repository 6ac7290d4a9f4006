//! `anglestop export`: CSV on standard output, or a folder of CSVs.

use std::fs::File;
use std::io::{BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{SyncSender, sync_channel};

use clap::{Args, Subcommand};

use super::Setting;
use crate::actions;
use crate::actions::condition::Standing;
use crate::actions::condition::every::Every;
use crate::actions::condition::write;
use crate::actions::export::{self, Which};
use crate::clock::Now;
use crate::domain::register::person::Scope;
use crate::error::{Error, Result};
use crate::exchange::csv::fleet::columns::{FolderFile, documented};
use crate::exchange::csv::{
    Audience, Column, calendars, checks, column, condition, results, schedules, turnovers,
};

/// Options of `export`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Every fixture, a row each, with its building and unit: the file that `import` reads
    Fleet {
        /// Only the building with this code
        #[arg(long, value_name = "CODE")]
        building: Option<String>,
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// The calendars of buildings: working days, public holidays, shut-down periods
    Calendars {
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// Every schedule, a row for each check it asks for
    Schedules {
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// Every result, in the order in which each building's were recorded
    Results {
        /// Only the building with this code
        #[arg(long, value_name = "CODE")]
        building: Option<String>,
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// Every turnover, open and over, in the order in which each building's were opened
    Turnovers {
        /// Only the building with this code
        #[arg(long, value_name = "CODE")]
        building: Option<String>,
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// The condition on a day, a row a fixture that stood there; of every building, one, or those of a portfolio
    Condition {
        /// Only the building with this code
        #[arg(long, value_name = "CODE")]
        building: Option<String>,
        /// Only the buildings of the portfolio with this code
        #[arg(long, value_name = "CODE", conflicts_with = "building")]
        portfolio: Option<String>,
        /// The local date; today when not given
        #[arg(long, value_name = "DATE")]
        as_of: Option<chrono::NaiveDate>,
        /// Say what each column means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
    /// What stands where and what is asked of it, a CSV for each kind of thing; no results, deficiencies, turnovers or people, so no backup
    Folder {
        /// Where; the folder is made, and no file in it is overwritten
        #[arg(required_unless_present = "columns")]
        dir: Option<PathBuf>,
        /// Say what each column of each file means instead, as a CSV
        #[arg(long)]
        columns: bool,
    },
}

/// Writes what was asked for.
///
/// # Errors
/// When there is no such building, a file can't be written, or the database does not answer.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    match &options.what {
        What::Fleet { columns: true, .. } => describe(&documented()),
        What::Fleet { building, .. } => {
            let which = building.clone().map_or(Which::All, Which::Building);
            let db = setting.open_there()?;
            to_stdout(|out| db.read(|conn| export::fleet(conn, &Scope::All, &which, out, Audience::Program)))
        }
        What::Calendars { columns: true } => describe(&calendars::COLUMNS),
        What::Calendars { .. } => {
            let db = setting.open_there()?;
            to_stdout(|out| db.read(|conn| export::calendars(conn, &Scope::All, out, Audience::Program)))
        }
        What::Schedules { columns: true } => describe(&schedules::COLUMNS),
        What::Schedules { .. } => {
            let db = setting.open_there()?;
            to_stdout(|out| db.read(|conn| export::schedules(conn, out, Audience::Program)))
        }
        What::Results { columns: true, .. } => describe(&results::COLUMNS),
        What::Results { building, .. } => {
            let which = building.clone().map_or(Which::All, Which::Building);
            let db = setting.open_there()?;
            to_stdout(|out| {
                db.read(|conn| export::results(conn, &Scope::All, &which, out, Audience::Program))
            })
        }
        What::Turnovers { columns: true, .. } => describe(&turnovers::COLUMNS),
        What::Turnovers { building, .. } => {
            let which = building.clone().map_or(Which::All, Which::Building);
            let db = setting.open_there()?;
            to_stdout(|out| {
                db.read(|conn| export::turnovers(conn, &Scope::All, &which, out, Audience::Program))
            })
        }
        What::Condition { columns: true, .. } => describe(&condition::COLUMNS),
        What::Condition {
            building: Some(code),
            as_of,
            ..
        } => {
            let db = setting.open_there()?;
            let now = Now::from_system();
            let standing = db.read(|conn| actions::condition::read(conn, &Scope::All, now, code, *as_of))?;
            to_stdout(|out| actions::condition::write::write(&standing, out, Audience::Program))
        }
        What::Condition { portfolio, as_of, .. } => every_condition(setting, portfolio.as_deref(), *as_of),
        What::Folder { columns: true, .. } => {
            let mut files: Vec<_> = FolderFile::ALL
                .iter()
                .map(|file| (file.name(), file.columns()))
                .collect();
            files.push((checks::FILE, checks::COLUMNS.to_vec()));
            files.push((calendars::FILE, calendars::COLUMNS.to_vec()));
            files.push((schedules::FILE, schedules::COLUMNS.to_vec()));
            to_stdout(|out| Ok(column::describe_files(&files, out)?))
        }
        What::Folder { dir, .. } => folder(setting, dir.as_deref().unwrap_or_else(|| Path::new("."))),
    }
}

/// Buildings' conditions that wait to be written while the next ones are read.
const READ_AHEAD: usize = 2;

/// Writes the condition of every building, or of those of a portfolio, one consistent state of the register. It is written while the
/// next buildings are read.
fn every_condition(
    setting: &Setting,
    portfolio: Option<&str>,
    as_of: Option<chrono::NaiveDate>,
) -> Result<()> {
    let db = setting.open_there()?;
    let read = |standings: &SyncSender<Vec<Standing>>| {
        db.read(|conn| {
            let mut every = Every::begin(conn, &Scope::All, portfolio, Now::from_system(), as_of)?;
            let mut next = Some(Vec::new());
            // Whoever wrote them may have gone, and says why.
            while let Some(Ok(())) = next.map(|next| standings.send(next)) {
                next = every.next(conn)?;
            }
            Ok(())
        })
    };
    std::thread::scope(|threads| {
        let (standings, come) = sync_channel(READ_AHEAD);
        let reader = threads.spawn(move || read(&standings));
        let written = to_stdout(|out| {
            // What comes first is empty: there is something to be written at all.
            let Ok(_) = come.recv() else { return Ok(()) };
            let mut table = write::begin(out, Audience::Program)?;
            for standing in come.iter().flatten() {
                write::rows(&mut table, &standing, &standing.lines)?;
            }
            table.finish()?;
            Ok(())
        });
        reader
            .join()
            .map_err(|_panic| Error::internal("reading the condition broke off"))??;
        written
    })
}

/// Writes every file of the folder, one consistent state of the register.
fn folder(setting: &Setting, dir: &Path) -> Result<()> {
    let db = setting.open_there()?;
    std::fs::create_dir_all(dir).map_err(|cause| unwritable(dir, &cause))?;
    let names = FolderFile::ALL.iter().map(|file| file.name());
    let in_the_way = names
        .chain([checks::FILE, calendars::FILE, schedules::FILE])
        .find(|name| dir.join(name).exists());
    if let Some(name) = in_the_way {
        return Err(Error::refused(format!(
            "{} is there already. Give an empty folder, or take the file away first.",
            dir.join(name).display()
        )));
    }
    let open = |file: FolderFile| create(&dir.join(file.name()));
    let mut of_checks = create(&dir.join(checks::FILE))?;
    let mut of_calendars = create(&dir.join(calendars::FILE))?;
    let mut of_schedules = create(&dir.join(schedules::FILE))?;
    let files = db.read(|conn| {
        export::checks(conn, &mut of_checks, Audience::Program)?;
        export::calendars(conn, &Scope::All, &mut of_calendars, Audience::Program)?;
        export::schedules(conn, &mut of_schedules, Audience::Program)?;
        export::folder(conn, &Scope::All, open, Audience::Program)
    })?;
    let files = files.into_iter().map(|(_, file)| file);
    let mut written = 0;
    for file in files.chain([of_checks, of_calendars, of_schedules]) {
        file.into_inner()
            .map_err(|cause| Error::from(cause.into_error()))?
            .sync_all()?;
        written += 1;
    }
    eprintln!("{written} files written to {}.", dir.display());
    Ok(())
}

/// Says what columns mean.
pub(super) fn describe(columns: &[Column]) -> Result<()> {
    to_stdout(|out| Ok(column::describe(columns, out)?))
}

/// Gives standard output to `write`. A reader that has seen enough, such as `head`, is no failure.
pub(super) fn to_stdout(write: impl FnOnce(&mut dyn Write) -> Result<()>) -> Result<()> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    let done = write(&mut out).and_then(|()| Ok(out.flush()?));
    match done {
        Err(Error::Internal(cause)) if is_broken_pipe(cause.as_ref()) => Ok(()),
        done => done,
    }
}

fn is_broken_pipe(cause: &(dyn std::error::Error + 'static)) -> bool {
    cause
        .downcast_ref::<std::io::Error>()
        .is_some_and(|cause| cause.kind() == ErrorKind::BrokenPipe)
}

fn create(path: &Path) -> std::io::Result<BufWriter<File>> {
    File::create_new(path)
        .map(BufWriter::new)
        .map_err(|cause| std::io::Error::new(cause.kind(), format!("{}: {cause}", path.display())))
}

fn unwritable(path: &Path, cause: &std::io::Error) -> Error {
    Error::refused(format!(
        "{} can't be written: {cause}. Give another folder.",
        path.display()
    ))
}
