//! `anglestop clearance`: the clearances of a water closet against a profile. Needs no database.

use std::io::Write as _;

use clap::Args;
use serde_json::json;

use super::until_the_pipe_closes;
use crate::domain::code::Coded as _;
use crate::domain::measure::{Amount, Length, LengthUnit, Unit};
use crate::domain::trade::caution::DEFERENCE;
use crate::domain::trade::clearance::{Clearance, Finding, Typed};
use crate::domain::trade::{Bound, ProfileCode};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;

/// Options of `clearance`.
#[derive(Debug, Args)]
#[command(
    after_help = "Lengths as people type them: 14 7/8, 14.875, 1 ft 2 7/8 in, 378 mm; a bare number is in inches. Limits are inclusive.\n\n  \
    anglestop clearance --profile ipc --left '15 1/8' --right '14 7/8' --front 22"
)]
pub struct Options {
    /// Whose limits: ipc, upc or ada
    #[arg(long, value_name = "CODE")]
    profile: String,
    /// Centreline to the wall or obstruction on the left
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    left: String,
    /// Centreline to the wall or obstruction on the right
    #[arg(long, value_name = "R", allow_hyphen_values = true)]
    right: String,
    /// Clear space in front
    #[arg(long, value_name = "F", allow_hyphen_values = true)]
    front: String,
    /// Floor to the top of the seat
    #[arg(long, value_name = "H", allow_hyphen_values = true)]
    seat: Option<String>,
    /// Centre to the next fixture's centre
    #[arg(long, value_name = "C", allow_hyphen_values = true)]
    centre: Option<String>,
    /// Clear width from the side wall
    #[arg(long, value_name = "W", allow_hyphen_values = true)]
    width: Option<String>,
    /// Clear depth from the rear wall
    #[arg(long, value_name = "D", allow_hyphen_values = true)]
    depth: Option<String>,
    /// Print JSON; lengths are numbers of inches
    #[arg(long)]
    json: bool,
}

/// Prints the verdict and each rule that is not kept.
///
/// # Errors
/// When there is no such profile, or a length can't be read.
pub fn run(options: &Options) -> Result<()> {
    let catalogue = catalogue::builtin().map_err(Error::internal)?;
    let known = || ProfileCode::BUILT_IN.join(", ");
    let profile = options
        .profile
        .trim()
        .to_lowercase()
        .parse::<ProfileCode>()
        .ok()
        .and_then(|code| catalogue.profile(&code))
        .ok_or_else(|| {
            Error::refused(format!(
                "“{}” is no profile. It is one of {}.",
                options.profile,
                known()
            ))
        })?;
    let text = |given: &Option<String>| given.clone().unwrap_or_default();
    let named = [
        ("--left", Some(&options.left)),
        ("--right", Some(&options.right)),
        ("--front", Some(&options.front)),
        ("--seat", options.seat.as_ref()),
        ("--centre", options.centre.as_ref()),
        ("--width", options.width.as_ref()),
        ("--depth", options.depth.as_ref()),
    ];
    let mut errors = Vec::new();
    for (name, given) in named {
        if let Some(given) = given
            && let Err(error) = Length::parse(given, LengthUnit::Inch)
        {
            errors.push(FieldError::new(name, format!("{name}: {error}.")));
        }
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    let typed = Typed {
        left: options.left.clone(),
        right: options.right.clone(),
        front: options.front.clone(),
        seat_height: text(&options.seat),
        centre_to_centre: text(&options.centre),
        width: text(&options.width),
        depth: text(&options.depth),
    };
    let measured = typed
        .read(LengthUnit::Inch)
        .map_err(|_read_above| Error::internal("a length that was read can't be read"))?;
    let found = profile.judge(&measured).map_err(Error::internal)?;
    until_the_pipe_closes(if options.json {
        in_json(&found)
    } else {
        in_words(&found)
    })
}

/// So many inches, as the nearest number.
fn inches(length: Length) -> f64 {
    let nm = crate::domain::measure::Ratio::whole(length.nm());
    nm.over(Unit::Inch.factor())
        .map_or(0.0, crate::domain::measure::Ratio::to_f64)
}

fn limit_in_inches(finding: &Finding) -> f64 {
    Amount::parse(&finding.rule.limit, Unit::Inch)
        .ok()
        .and_then(|amount| amount.in_unit(Unit::Inch))
        .map_or_else(|| inches(finding.limit), crate::domain::measure::Ratio::to_f64)
}

fn in_json(found: &Clearance) -> std::io::Result<()> {
    let findings: Vec<_> = found
        .findings
        .iter()
        .map(|finding| {
            json!({
                "rule": finding.rule.dimension.code(),
                "limit": limit_in_inches(finding),
                "measured": inches(finding.measured),
                "short_by": inches(finding.short_by),
                "bound": finding.rule.bound.code(),
                "source": finding.rule.source.phrase(),
                "measured_from": finding.rule.dimension.measured_from(),
                "short_by_text": finding.short_by.show(LengthUnit::Inch),
            })
        })
        .collect();
    let not_measured: Vec<_> = found.not_measured.iter().map(|one| one.code()).collect();
    let mut out = std::io::stdout().lock();
    let answer = json!({
        "verdict": found.verdict.code(),
        "findings": findings,
        "not_measured": not_measured,
    });
    serde_json::to_writer(&mut out, &answer)?;
    writeln!(out)
}

fn in_words(found: &Clearance) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{}", found.verdict.code())?;
    for finding in &found.findings {
        let side = match finding.rule.bound {
            Bound::AtLeast => "short of",
            Bound::AtMost => "over",
        };
        writeln!(
            out,
            "{}: {} is {side} {} by {} ({}), measured {}",
            finding.rule.dimension.name(),
            finding.measured.show(LengthUnit::Inch),
            finding.rule.limit,
            finding.short_by.show(LengthUnit::Inch),
            finding.rule.source.phrase(),
            finding.rule.dimension.measured_from()
        )?;
    }
    if !found.not_measured.is_empty() {
        let names: Vec<&str> = found.not_measured.iter().map(|one| one.name()).collect();
        writeln!(out, "not measured, and so not judged: {}", names.join(", "))?;
    }
    eprintln!("{DEFERENCE}");
    Ok(())
}
