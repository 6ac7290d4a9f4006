//! `anglestop import`: a fleet from one CSV or from a folder of CSVs, all of it or nothing.

use std::fmt::Write as _;
use std::io::{IsTerminal as _, Read as _};
use std::path::{Path, PathBuf};

use clap::Args;

use super::Setting;
use crate::actions::import_fleet::{self, Progress, Report, Step};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::source::Given;
use crate::language::count;
use crate::store::due::renew_stale;

/// Options of `import`.
#[derive(Debug, Args)]
#[command(
    after_help = "Every row is read before anything is stored. When one can't be taken, all that must be mended are listed, the exit \
    code is 1 and nothing is stored. What the file leaves out stays; the same file twice changes nothing. `anglestop export fleet \
    --columns` says what each column means."
)]
pub struct Options {
    /// The CSV, a folder of CSVs as `export folder` writes it, or - for standard input
    path: PathBuf,
    /// Say what would change, and store nothing
    #[arg(long)]
    dry_run: bool,
    /// Say it as JSON
    #[arg(long)]
    json: bool,
}

/// Imports, or says what would be.
///
/// # Errors
/// When a file can't be read, a row must be mended, or the database refuses; then nothing was stored.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let files = given(&options.path)?;
    let db = setting.open()?;
    let (actor, now) = (Actor::operator(), Now::from_system());
    let mut progress = progress();
    let report = if options.dry_run {
        import_fleet::preview(&db, &actor, now, &files, &mut progress)?
    } else {
        let report = import_fleet::import(&db, &actor, now, &files, &mut progress)?;
        renew_stale(&db)?;
        report
    };
    if options.json {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&report).map_err(Error::internal)?
        );
    } else {
        tell(&report);
    }
    if !report.is_sound() {
        let what = count(report.problems.len(), "thing must", "things must");
        return Err(Error::refused(format!("{what} be mended. Nothing was stored.")));
    }
    eprintln!(
        "{}",
        match (options.dry_run, report.counts.is_unchanged()) {
            (_, true) => "Nothing is new or changed. Nothing was stored.",
            (true, false) => "Nothing was stored: this was a dry run.",
            (false, false) => "Stored.",
        }
    );
    Ok(())
}

fn given(path: &Path) -> Result<Vec<Given>> {
    if path == Path::new("-") {
        let mut bytes = Vec::new();
        std::io::stdin().read_to_end(&mut bytes)?;
        let name = "standard input".to_owned();
        return Ok(vec![Given { name, bytes }]);
    }
    let refuse = |cause: std::io::Error| {
        Error::refused(format!(
            "{} can't be read: {cause}. Give a CSV or a folder of CSVs.",
            path.display()
        ))
    };
    if !path.is_dir() {
        return Ok(vec![file(path).map_err(refuse)?]);
    }
    let mut files = Vec::new();
    for entry in std::fs::read_dir(path).map_err(refuse)? {
        let path = entry.map_err(refuse)?.path();
        if path
            .extension()
            .is_some_and(|ending| ending.eq_ignore_ascii_case("csv"))
        {
            files.push(file(&path).map_err(refuse)?);
        }
    }
    files.sort_by(|a, b| a.name.cmp(&b.name));
    if files.is_empty() {
        return Err(Error::refused(format!(
            "There is no CSV in {}. Give a folder as `anglestop export folder` writes it.",
            path.display()
        )));
    }
    Ok(files)
}

fn file(path: &Path) -> std::io::Result<Given> {
    let name = path.file_name().unwrap_or(path.as_os_str());
    Ok(Given {
        name: name.to_string_lossy().into_owned(),
        bytes: std::fs::read(path)?,
    })
}

/// Tells how far it is on a terminal, and nothing elsewhere.
fn progress() -> impl FnMut(Progress) {
    let is_seen = std::io::stderr().is_terminal();
    move |progress: Progress| {
        if !is_seen {
            return;
        }
        let word = match progress.step {
            Step::Read => "Reading",
            Step::Store => "Storing",
        };
        eprint!("\r{word} {} of {} buildings", progress.done, progress.all);
        if progress.done == progress.all {
            eprint!("\r\x1b[K");
        }
    }
}

fn tell(report: &Report) {
    eprint!("{}", table("To mend", &report.problems));
    eprint!("{}", table("To look at", &report.notes));
    if !report.is_sound() {
        return;
    }
    crate::cli::say!("{:<16}{:>10}{:>10}{:>11}", "", "added", "changed", "unchanged");
    for (name, count) in report.counts.named() {
        crate::cli::say!(
            "{name:<16}{:>10}{:>10}{:>11}",
            count.added,
            count.changed,
            count.unchanged
        );
    }
    for change in &report.changes {
        crate::cli::say!(
            "{} {}: “{}” becomes “{}”",
            change.what,
            change.column,
            change.before,
            change.after
        );
    }
    let all: usize = report.counts.named().iter().map(|(_, count)| count.changed).sum();
    if all > report.changes.len() {
        crate::cli::say!("… and more: {all} lines change in all.");
    }
}

/// Problems as lines: where, column, value, why and what to do.
fn table(title: &str, problems: &[Problem]) -> String {
    let mut out = String::new();
    if problems.is_empty() {
        return out;
    }
    let place = |problem: &Problem| format!("{}:{}", problem.file, problem.line);
    let cut = |text: &str| -> String {
        text.chars()
            .take(24)
            .map(|c| if c.is_control() { ' ' } else { c })
            .collect()
    };
    let longest =
        |texts: &mut dyn Iterator<Item = String>| texts.map(|text| text.chars().count()).max().unwrap_or(0);
    let places = longest(&mut problems.iter().map(place));
    let columns = longest(&mut problems.iter().map(|problem| problem.column.clone()));
    let values = longest(&mut problems.iter().map(|problem| cut(&problem.value)));
    let _ = writeln!(out, "{title}:");
    for problem in problems {
        let _ = writeln!(
            out,
            "{:<places$}  {:<columns$}  {:<values$}  {} {}",
            place(problem),
            problem.column,
            cut(&problem.value),
            problem.reason,
            problem.remedy
        );
    }
    out
}
