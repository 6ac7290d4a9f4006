//! How a process was told to run: flags over environment over defaults. The only place beside `cli` that reads the environment.

use crate::error::{Error, Result};
use crate::store::DatabaseUrl;

/// Name of the variable that says where the fleet is kept.
pub const DATABASE_URL: &str = "DATABASE_URL";
/// Where the fleet is kept when nothing is said.
pub const DEFAULT_DATABASE: &str = "sqlite://anglestop.db";

/// The database that a command works on.
///
/// # Errors
/// When the address can't be read.
pub fn database(flag: Option<&str>) -> Result<DatabaseUrl> {
    let text = match flag {
        Some(text) => text.to_owned(),
        None => std::env::var(DATABASE_URL).unwrap_or_else(|_| DEFAULT_DATABASE.to_owned()),
    };
    text.parse()
        .map_err(|sentence| Error::field("--database", sentence))
}
