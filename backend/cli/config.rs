//! `anglestop config`: what this process would run with, and where each value came from; and the office's own values.

use clap::{Args, Subcommand};
use serde::Serialize;

use super::Setting;
use crate::config::{self, Origin};
use crate::error::{Error, Result};
use crate::store::settings;

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
    key: &'static str,
    value: String,
    from: String,
    help: &'static str,
}

/// Shows or changes.
///
/// # Errors
/// When there is no such key.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    match &options.what {
        What::Show { json } => show(setting, *json),
        What::Get { key } => {
            let value = setting.open()?.read(|conn| settings::get(conn, key))?;
            println!(
                "{}",
                value.ok_or_else(|| Error::refused(format!(
                    "“{key}” was not changed; it has its built-in value."
                )))?
            );
            Ok(())
        }
        What::Set { key, value } => setting.open()?.write(|tx| settings::set(tx, key, value)),
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
            key: key.name,
            value: value.shown(),
            from,
            help: key.help,
        });
    }
    if json {
        println!(
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
        println!(
            "{:<12} {value}  ({})\n{:<12} {}",
            line.key, line.from, "", line.help
        );
    }
    Ok(())
}
