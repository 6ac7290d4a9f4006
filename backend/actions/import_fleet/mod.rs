//! Imports a fleet: all of the files or nothing. Everything is read and laid over what is stored before anything is written; every bad
//! row is reported; what would change is told first, and a file that says nothing new changes nothing.
//!
//! Decides who may, in which order, and what is noted; what a file means is decided in `exchange::csv::fleet`.

mod files;
mod laying;
mod store;

use serde::Serialize;

use super::register::rights;
use crate::clock::Now;
use crate::domain::register::PortfolioFacts;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::difference::{Change, Counts};
use crate::exchange::csv::fleet::source::Given;
use crate::store::{Db, due};
use laying::Laid;
use store::store;

/// What a file would do, or did.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Report {
    /// Added, changed and unchanged, by kind.
    pub counts: Counts,
    /// Values that change, the first thousand.
    pub changes: Vec<Change>,
    /// What must be mended; with any of these nothing is stored.
    pub problems: Vec<Problem>,
    /// What is taken, but may not be meant.
    pub notes: Vec<Problem>,
}

impl Report {
    /// Whether it can be stored.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.problems.is_empty()
    }
}

/// How far an import is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// What is being done.
    pub step: Step,
    /// Buildings done.
    pub done: usize,
    /// Buildings in all.
    pub all: usize,
}

/// What is being done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Reading and comparing.
    Read,
    /// Storing.
    Store,
}

/// Tells what the files would do; stores nothing.
///
/// # Errors
/// When the person may not import, or the database does not answer.
pub fn preview(
    db: &Db,
    actor: &Actor,
    now: Now,
    files: &[Given],
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    rights::manager(actor, "import a fleet")?;
    let read = db.read(|conn| Laid::read(conn, now, files, progress))?;
    Ok(read.report)
}

/// Stores what the files say, all of it or, with problems in the report, nothing.
///
/// # Errors
/// When the person may not import, the fleet was changed meanwhile so that the files no longer fit, or the database refuses.
pub fn import(
    db: &Db,
    actor: &Actor,
    now: Now,
    files: &[Given],
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    rights::manager(actor, "import a fleet")?;
    let read = db.read(|conn| Laid::read(conn, now, files, progress))?;
    if !read.report.is_sound() || read.report.counts.is_unchanged() {
        return Ok(read.report);
    }
    let report = db.write(|tx| store(tx, actor, now, files, &read.portfolios, progress))?;
    due::begin_renewal(db)?;
    Ok(report)
}

/// Portfolios by code, with the name that each is to have.
type Portfolios = Vec<PortfolioFacts>;
