//! What a catalogue must hold to be of use: codes once each, limits that can be read in the check's unit, schedules that name checks
//! that exist. Also holds a user's own check to the same rules.

use std::collections::BTreeSet;

use super::CatalogueError;
use crate::domain::measure::Amount;
use crate::domain::trade::catalogue::{AnchorKind, Pack};
use crate::domain::trade::{Answer, Bound, Catalogue, Check, ScheduleTemplate};

/// The most minutes one check may take: a working day.
const MOST_MINUTES: f64 = 480.0;

pub(super) fn validate(catalogue: &Catalogue) -> Result<(), CatalogueError> {
    let mut codes = BTreeSet::new();
    for check in &catalogue.checks {
        validate_check(check)?;
        if !codes.insert(check.code.as_str()) {
            return Err(CatalogueError::new(
                check.code.as_str(),
                "the code is used twice; choose another",
            ));
        }
        validate_profiles(catalogue, check)?;
    }
    let mut schedules = BTreeSet::new();
    for schedule in &catalogue.schedules {
        if !schedules.insert(schedule.code.as_str()) {
            return Err(CatalogueError::new(
                schedule.code.as_str(),
                "the code is used twice; choose another",
            ));
        }
        validate_schedule(catalogue, schedule)?;
    }
    for profile in &catalogue.profiles {
        for rule in &profile.rules {
            rule.length()
                .map_err(|error| CatalogueError::new(profile.code.as_str(), error.to_string()))?;
        }
    }
    super::bench::validate(catalogue)?;
    super::diagnosis::validate(catalogue)
}

/// Holds one check to what every check must be; for a user's own check too.
///
/// # Errors
/// A sentence that says what to write.
pub fn validate_check(check: &Check) -> Result<(), CatalogueError> {
    let wrong = |problem: String| Err(CatalogueError::new(check.code.as_str(), problem));
    if !check.code.is_well_formed() {
        return wrong("the code is not lower-case letters, digits and underscores; rewrite it".to_owned());
    }
    if check.title.trim().is_empty() || check.ask.trim().is_empty() {
        return wrong("title or question is empty; write both".to_owned());
    }
    if check.kinds.is_empty() {
        return wrong("no kind of fixture is named; name at least one".to_owned());
    }
    if check.version == 0 {
        return wrong("the version is 0; versions begin at 1".to_owned());
    }
    if !(check.minutes > 0.0 && check.minutes <= MOST_MINUTES) {
        return wrong(format!(
            "{} minutes can't be planned; write more than 0 and at most 480",
            check.minutes
        ));
    }
    if check.off_until_chosen && !check.turnover.is_empty() {
        return wrong(
            "a check that is off until chosen belongs to no turnover; leave the stages out".to_owned(),
        );
    }
    for source in [&check.source, &check.severity_source, &check.minutes_source] {
        if !source.is_stated() {
            return wrong("a source has no citation; write one".to_owned());
        }
    }
    validate_answer(check)
}

fn validate_answer(check: &Check) -> Result<(), CatalogueError> {
    let wrong = |problem: String| Err(CatalogueError::new(check.code.as_str(), problem));
    match &check.answer {
        Answer::Verdict { pass, fail } => {
            if pass.trim().is_empty() || fail.trim().is_empty() {
                return wrong("the words for pass or fail are empty; write both".to_owned());
            }
        }
        Answer::Reading { of, unit, limits } => {
            if of.trim().is_empty() {
                return wrong("the reading has no name; write what is read".to_owned());
            }
            for limit in limits {
                if !limit.value.ends_with(|c: char| c.is_alphabetic() || c == '%') {
                    return wrong(format!(
                        "the limit \"{}\" has no unit; write it with one",
                        limit.value
                    ));
                }
                if !limit.source.is_stated() {
                    return wrong(format!("the limit \"{}\" has no source; write one", limit.value));
                }
                if let Err(error) = Amount::parse(&limit.value, *unit) {
                    return wrong(error.to_string());
                }
            }
        }
    }
    Ok(())
}

/// Under each profile, what is wanted at least may not be more than what is allowed at most.
fn validate_profiles(catalogue: &Catalogue, check: &Check) -> Result<(), CatalogueError> {
    let Answer::Reading { unit, limits, .. } = &check.answer else {
        return Ok(());
    };
    let place = check.code.as_str();
    for code in limits.iter().flat_map(|limit| &limit.profiles) {
        if catalogue.profile(code).is_none() {
            return Err(CatalogueError::new(
                place,
                format!("there is no profile \"{code}\"; name one that is"),
            ));
        }
    }
    for profile in &catalogue.profiles {
        let held = || limits.iter().filter(|limit| limit.holds_under(&profile.code));
        for least in held().filter(|limit| limit.bound == Bound::AtLeast) {
            for most in held().filter(|limit| limit.bound == Bound::AtMost) {
                let order = Amount::parse(&least.value, *unit)
                    .and_then(|least| least.compare(&Amount::parse(&most.value, *unit)?))
                    .map_err(|error| CatalogueError::new(place, error.to_string()))?;
                if order.is_gt() {
                    return Err(CatalogueError::new(
                        place,
                        format!(
                            "at least {} and at most {} can't both hold; correct one",
                            least.value, most.value
                        ),
                    ));
                }
            }
        }
    }
    Ok(())
}

fn validate_schedule(catalogue: &Catalogue, schedule: &ScheduleTemplate) -> Result<(), CatalogueError> {
    let wrong = |problem: String| Err(CatalogueError::new(schedule.code.as_str(), problem));
    if !schedule.code.is_well_formed() {
        return wrong("the code is not lower-case letters, digits and underscores; rewrite it".to_owned());
    }
    if schedule.checks.is_empty() {
        return wrong("no check is named; name at least one".to_owned());
    }
    for code in &schedule.checks {
        let Some(check) = catalogue.check(code.as_str()) else {
            return wrong(format!("there is no check \"{code}\"; name one that is"));
        };
        if check.off_until_chosen != (schedule.pack == Pack::Chosen) {
            return wrong(format!(
                "\"{code}\" belongs to the pack \"chosen\" if it is off until chosen, else to another"
            ));
        }
    }
    if schedule.anchor == AnchorKind::LastDone && schedule.early_days.is_some() {
        return wrong("early_days belong to calendar rules; leave them out".to_owned());
    }
    schedule.timing().map(|_| ()).or_else(wrong)
}
