//! `anglestop migrate`: brings the tables, and the built-in checks in them, to this version.

use clap::Args;

use super::Setting;
use crate::actions::setup;
use crate::clock::Now;
use crate::error::Result;
use crate::store::Db;

/// Options of `migrate`.
#[derive(Debug, Args)]
pub struct Options {}

/// Brings the tables and the built-in checks to this version.
///
/// # Errors
/// When a migration fails; then nothing was changed.
pub fn run(setting: &Setting, _: &Options) -> Result<()> {
    let db = Db::open(&crate::config::database(setting.database.as_deref())?)?;
    let steps = setup::prepare(&db, Now::from_system())?;
    eprintln!("{steps} steps taken.");
    Ok(())
}
