//! `anglestop migrate`: brings the tables to this version.

use clap::Args;

use super::Setting;
use crate::error::Result;
use crate::store::{Db, migrate};

/// Options of `migrate`.
#[derive(Debug, Args)]
pub struct Options {}

/// Brings the tables to this version.
///
/// # Errors
/// When a migration fails; then nothing was changed.
pub fn run(setting: &Setting, _: &Options) -> Result<()> {
    let db = Db::open(&crate::config::database(setting.database.as_deref())?)?;
    let steps = migrate::run(&db)?;
    eprintln!("{steps} steps taken.");
    Ok(())
}
