//! `anglestop occurrences`: the dates on which a rule falls.

use std::io::{BufWriter, Write, stdout};

use chrono::{NaiveDate, NaiveDateTime, NaiveTime};
use chrono_tz::Tz;
use clap::Args;

use super::until_the_pipe_closes;
use crate::domain::recurrence::Rule;
use crate::error::{Error, Result};

/// Options of `occurrences`.
#[derive(Debug, Args)]
#[command(
    after_help = "A start that does not match the rule is no occurrence. An UNTIL with a time is an instant, resolved with the start's \
    time and zone.\n\n  anglestop occurrences --rule 'FREQ=MONTHLY;BYDAY=1MO' --start 2026-01-01 --from 2026-06-01 --count 3"
)]
pub struct Options {
    /// RFC 5545 rule text, such as FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=15
    #[arg(long, value_name = "TEXT")]
    rule: String,
    /// Day the rule starts, or day and local time: 2026-10-15 or 2026-10-15T09:00:00
    #[arg(long, value_name = "DATE|DATE-TIME")]
    start: String,
    /// IANA time zone of the start, such as America/New_York; UTC when not given
    #[arg(long, value_name = "ZONE")]
    zone: Option<String>,
    /// First day to print; the day the rule starts when not given
    #[arg(long, value_name = "DATE", value_parser = crate::cli::date)]
    from: Option<NaiveDate>,
    /// The most dates to print; fewer when the rule ends
    #[arg(long, value_name = "N", default_value_t = 10)]
    count: usize,
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

/// Prints one ISO date a line, on or after `--from`.
///
/// # Errors
/// When the rule, the start or the zone can't be read.
pub fn run(options: &Options) -> Result<()> {
    let start = start(&options.start)?;
    let zone = options.zone.as_deref().map(zone).transpose()?;
    let rule =
        Rule::parse_at(&options.rule, start, zone).map_err(|error| Error::refused(error.to_string()))?;
    let from = options.from.unwrap_or_else(|| start.date());
    let first = rule.next_on_or_after(from);
    let dates = std::iter::successors(first, |day| rule.next_after(*day)).take(options.count);
    until_the_pipe_closes(write(dates, options.json.then_some(Json)))
}

/// Asks for a JSON array instead of lines.
#[derive(Debug, Clone, Copy)]
struct Json;

fn write(dates: impl Iterator<Item = NaiveDate>, json: Option<Json>) -> std::io::Result<()> {
    let mut out = BufWriter::new(stdout().lock());
    match json {
        Some(Json) => {
            serde_json::to_writer(&mut out, &dates.collect::<Vec<_>>())?;
            writeln!(out)?;
        }
        None => {
            for date in dates {
                writeln!(out, "{date}")?;
            }
        }
    }
    out.flush()
}

fn start(text: &str) -> Result<NaiveDateTime> {
    let text = text.trim();
    let day = text.parse::<NaiveDate>().map(|day| day.and_time(NaiveTime::MIN));
    let instant = || {
        [
            "%Y-%m-%dT%H:%M:%S",
            "%Y-%m-%dT%H:%M",
            "%Y-%m-%d %H:%M:%S",
            "%Y%m%dT%H%M%S",
        ]
        .iter()
        .find_map(|form| NaiveDateTime::parse_from_str(text, form).ok())
    };
    day.ok().or_else(instant).ok_or_else(|| {
        Error::refused(format!(
            "“{text}” is not a start. Give a day such as 2026-10-15, or a day and local time such as 2026-10-15T09:00:00."
        ))
    })
}

fn zone(text: &str) -> Result<Tz> {
    text.trim().parse().map_err(|_unknown| {
        Error::refused(format!(
            "“{text}” is not a time zone. Give the place's IANA name, such as America/New_York or Europe/Berlin."
        ))
    })
}
