//! `anglestop digest`: writes each technician's morning mail for a date, or shows it.

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use super::Setting;
use crate::actions::digest;
use crate::clock::Now;
use crate::config;
use crate::error::{Error, Result};

/// Options of `digest`.
#[derive(Debug, Args)]
pub struct Options {
    /// The local date of the mails, with results, deficiencies and turnovers as they stood then; when not given, today where each
    /// technician is
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    as_of: Option<NaiveDate>,
    /// Print the mails; store and send nothing
    #[arg(long)]
    dry_run: bool,
    /// Only for this person
    #[arg(long, value_name = "ADDRESS")]
    person: Option<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Shown<'a> {
    to: &'a str,
    date: NaiveDate,
    subject: Option<&'a str>,
    text: Option<&'a str>,
    queued: bool,
}

/// Writes or shows the digests.
///
/// # Errors
/// When the database does not answer or nobody has the address.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    let now = Now::from_system();
    let public_url = public_url()?;
    let mut written = digest::preview(&db, now, options.as_of, &public_url)?;
    if let Some(address) = &options.person {
        written.retain(|one| one.recipient.email.eq_ignore_ascii_case(address));
        if written.is_empty() {
            return Err(Error::refused(format!(
                "No active technician has the address {address}. See anglestop user list."
            )));
        }
    }
    let mut shown = Vec::new();
    for one in &written {
        let queued = !options.dry_run && digest::enqueue(&db, now, one, &public_url)?;
        shown.push(Shown {
            to: &one.recipient.email,
            date: one.date,
            subject: one.letter.as_ref().map(|letter| letter.subject.as_str()),
            text: one.letter.as_ref().map(|letter| letter.text.as_str()),
            queued,
        });
    }
    if options.json {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&shown).map_err(Error::internal)?
        );
        return Ok(());
    }
    for one in shown {
        match (one.subject, one.text) {
            (Some(subject), Some(text)) => crate::cli::say!("To: {}\nSubject: {subject}\n\n{text}", one.to),
            _ => crate::cli::say!("To: {}\n(nothing is due, so there is no mail)\n", one.to),
        }
        if !options.dry_run {
            eprintln!(
                "{}: {}",
                one.to,
                if one.queued {
                    "queued; serve delivers it"
                } else {
                    "not queued again"
                }
            );
        }
    }
    Ok(())
}

fn public_url() -> Result<String> {
    let public = config::value("public_url", None)?.text;
    Ok(if public.is_empty() {
        format!("http://{}", config::value("listen", None)?.text)
    } else {
        public
    })
}
