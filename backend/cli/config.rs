//! `anglestop config`: what this process would run with, and where each value came from; and the office's own values.

use clap::{Args, Subcommand};
use serde::Serialize;

use super::Setting;
use crate::actions::office;
use crate::clock::Now;
use crate::config::{self, Origin};
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::store::DatabaseUrl;

/// Options of `config`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Show every value and where it came from; passwords are hidden
    Show {
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Show a value that the office may change
    Get {
        /// Its name
        key: String,
    },
    /// Change a value that the office may change; it holds from the next page on
    Set {
        /// Its name
        key: String,
        /// The new value
        value: String,
    },
}

#[derive(Serialize)]
struct Line {
    key: String,
    value: String,
    from: String,
    help: String,
}

/// Shows or changes.
///
/// # Errors
/// When there is no such key.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    match &options.what {
        What::Show { json } => show(setting, *json),
        What::Get { key } => {
            let values = setting.open_there()?.read(office::values)?;
            let known = values.into_iter().find(|one| one.name == *key).ok_or_else(|| {
                Error::refused(format!(
                    "The office has no value “{key}”. anglestop config show lists their names."
                ))
            })?;
            crate::cli::say!("{}", known.value);
            Ok(())
        }
        What::Set { key, value } => {
            let db = setting.open_there()?;
            office::set(&db, &Actor::operator(), Now::from_system(), key, value)
        }
    }
}

fn show(setting: &Setting, json: bool) -> Result<()> {
    let mut lines = Vec::new();
    for key in config::KEYS {
        let flag = if key.name == "database" {
            setting.database.as_deref()
        } else {
            None
        };
        let value = config::value(key.name, flag)?;
        let from = match value.origin {
            Origin::Flag => format!("--{}", key.name),
            Origin::Environment => key.variable.to_owned(),
            Origin::Default => "default".to_owned(),
        };
        lines.push(Line {
            key: key.name.to_owned(),
            value: value.shown(),
            from,
            help: key.help.to_owned(),
        });
    }
    if is_there(setting)? {
        match setting.open().and_then(|db| db.read(office::values)) {
            Ok(values) => lines.extend(values.into_iter().map(|one| Line {
                key: one.name,
                value: one.value,
                from: "office".to_owned(),
                help: one.help,
            })),
            Err(cause) => eprintln!("The office's own values can't be read: {cause}"),
        }
    }
    if json {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&lines).map_err(Error::internal)?
        );
        return Ok(());
    }
    for line in lines {
        let value = if line.value.is_empty() {
            "(none)"
        } else {
            &line.value
        };
        crate::cli::say!(
            "{:<28} {value}  ({})\n{:<28} {}",
            line.key,
            line.from,
            "",
            line.help
        );
    }
    Ok(())
}

/// Whether there is a fleet whose office has values; to look makes none.
fn is_there(setting: &Setting) -> Result<bool> {
    Ok(match config::database(setting.database.as_deref())? {
        DatabaseUrl::Sqlite(file) => file.exists(),
        DatabaseUrl::Postgres(_) => true,
    })
}
