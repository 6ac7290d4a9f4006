//! A check's answer, limits and conditions as people read them.

use crate::domain::trade::{Answer, Check, FixtureKind, Limit, PartKind};
use crate::web::choice::Fact;

/// What to answer, in a few words for a list: "pass or fail", "refill time, at most 90 s".
pub fn answer(check: &Check) -> String {
    match &check.answer {
        Answer::Verdict { .. } => "pass or fail".to_owned(),
        Answer::Reading { of, limits, .. } => match limits.as_slice() {
            [] => format!("{}, any value", lower(of)),
            limits if limits.iter().any(|limit| !limit.profiles.is_empty()) => {
                format!("{}, limit by code profile", lower(of))
            }
            limits => {
                let bounds: Vec<String> = limits.iter().map(bound).collect();
                format!("{}, {}", lower(of), bounds.join(", "))
            }
        },
    }
}

fn bound(limit: &Limit) -> String {
    format!("{} {}", limit.bound.name(), limit.value)
}

/// Under which profiles a limit holds.
pub fn profiles(limit: &Limit) -> String {
    if limit.profiles.is_empty() {
        return "every profile".to_owned();
    }
    let codes: Vec<String> = limit
        .profiles
        .iter()
        .map(|profile| profile.as_str().to_uppercase())
        .collect();
    codes.join(", ")
}

/// What a limit says.
pub fn limit(limit: &Limit) -> String {
    bound(limit)
}

/// What it is asked of: "water closet, urinal", with the parts.
pub fn asked_of(check: &Check) -> String {
    let kinds: Vec<String> = check.kinds.iter().copied().map(kind).collect();
    if check.parts.is_empty() {
        return kinds.join(", ");
    }
    let parts: Vec<String> = check.parts.iter().copied().map(part).collect();
    format!("{}: {}", kinds.join(", "), parts.join(", "))
}

fn kind(kind: FixtureKind) -> String {
    kind.name().to_lowercase()
}

fn part(part: PartKind) -> String {
    part.name().to_lowercase()
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_lowercase().chain(letters).collect())
        .unwrap_or_default()
}

/// Everything beside method, answer and cautions.
pub fn facts(check: &Check) -> Vec<Fact> {
    let mut facts = vec![
        Fact::new("Asked of", asked_of(check)),
        Fact::new("Group", check.group.name()),
        Fact::new("Who may do it", check.performer.name()),
        Fact::new(
            "Severity of a failure",
            format!("{}; {}", severities(check), check.severity_source.phrase()),
        ),
        Fact::new(
            "Minutes",
            format!("{}; {}", check.minutes, check.minutes_source.phrase()),
        ),
    ];
    if !check.turnover.is_empty() {
        let stages: Vec<&str> = check.turnover.iter().map(|stage| stage.name()).collect();
        facts.push(Fact::new("In a turnover", stages.join(", ")));
    }
    if let Some(age) = &check.conditions.building_age {
        facts.push(Fact::new(
            "Only in buildings",
            format!(
                "at least {} years old, or of unknown age; {}",
                age.at_least_years,
                age.source.phrase()
            ),
        ));
    }
    if !check.conditions.base_joint.is_empty() {
        let policies: Vec<String> = check
            .conditions
            .base_joint
            .iter()
            .map(|policy| policy.name().to_lowercase())
            .collect();
        facts.push(Fact::new("Only where the base joint is", policies.join(", ")));
    }
    facts.push(Fact::new("Method from", check.source.phrase()));
    facts.push(Fact::new("Code", check.code.as_str()));
    facts
}

fn severities(check: &Check) -> String {
    let mut said = check.severity.name().to_lowercase();
    if let Some(severity) = check.severity_only_one {
        said = format!(
            "{said}, {} when the unit has no other",
            severity.name().to_lowercase()
        );
    }
    if let Some(severity) = check.severity_common_area {
        said = format!("{said}, {} in a common area", severity.name().to_lowercase());
    }
    said
}
