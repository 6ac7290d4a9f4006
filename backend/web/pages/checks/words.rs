//! A check's answer, limits and conditions as people read them.

use crate::domain::code::Worded;
use crate::domain::trade::{Answer, Check, Limit};
use crate::language::Language;
use crate::web::choice::Fact;

/// What to answer, in a few words for a list: "pass or fail", "refill time, at most 90 s".
pub fn answer(language: Language, check: &Check) -> String {
    let Answer::Reading { limits, .. } = &check.answer else {
        return language.say("checks-pass-or-fail").into();
    };
    let of = lower(&language.check(check).of);
    match limits.as_slice() {
        [] => language.say("checks-any-value").with("of", of).into(),
        limits if limits.iter().any(|limit| !limit.profiles.is_empty()) => {
            language.say("checks-limit-by-profile").with("of", of).into()
        }
        limits => {
            let bounds = limits.iter().map(|limit| language.limit(limit));
            let bounds: Vec<String> = bounds.collect();
            format!("{of}, {}", bounds.join(", "))
        }
    }
}

/// Under which profiles a limit holds.
pub fn profiles(language: Language, limit: &Limit) -> String {
    if limit.profiles.is_empty() {
        return language.say("checks-every-profile").into();
    }
    let codes: Vec<String> = limit
        .profiles
        .iter()
        .map(|profile| profile.as_str().to_uppercase())
        .collect();
    codes.join(", ")
}

/// What it is asked of: "water closet, urinal", with the parts.
fn asked_of(language: Language, check: &Check) -> String {
    let kinds = words(language, &check.kinds);
    if check.parts.is_empty() {
        return kinds;
    }
    format!("{kinds}: {}", words(language, &check.parts))
}

/// Words of the trade within a sentence, one behind the other.
fn words<T: Worded>(language: Language, values: &[T]) -> String {
    let words = values.iter().map(|value| language.word(*value).to_lowercase());
    words.collect::<Vec<_>>().join(", ")
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_lowercase().chain(letters).collect())
        .unwrap_or_default()
}

/// Everything beside method, answer and cautions.
pub fn facts(language: Language, check: &Check) -> Vec<Fact> {
    let mut facts = vec![
        Fact::new(language.say("checks-asked-of"), asked_of(language, check)),
        Fact::new(language.say("checks-group"), language.word(check.group)),
        Fact::new(language.say("checks-who-may"), language.word(check.performer)),
        Fact::new(
            language.say("checks-severity-of-failure"),
            format!(
                "{}; {}",
                severities(language, check),
                language.source(&check.severity_source)
            ),
        ),
        Fact::new(
            language.say("minutes"),
            format!("{}; {}", check.minutes, language.source(&check.minutes_source)),
        ),
    ];
    if !check.turnover.is_empty() {
        let stages = check.turnover.iter().map(|stage| language.word(*stage));
        let stages: Vec<String> = stages.collect();
        facts.push(Fact::new(language.say("checks-in-a-turnover"), stages.join(", ")));
    }
    if let Some(age) = &check.conditions.building_age {
        let said = language
            .say("checks-at-least-years")
            .with("years", u32::from(age.at_least_years))
            .with("source", language.source(&age.source));
        facts.push(Fact::new(language.say("checks-only-in-buildings"), said));
    }
    if !check.conditions.base_joint.is_empty() {
        facts.push(Fact::new(
            language.say("checks-only-base-joint"),
            words(language, &check.conditions.base_joint),
        ));
    }
    facts.push(Fact::new(
        language.say("checks-method-from"),
        language.source(&check.source),
    ));
    facts.push(Fact::new(language.say("building-code"), check.code.as_str()));
    facts
}

fn severities(language: Language, check: &Check) -> String {
    let lower = |severity| language.word(severity).to_lowercase();
    let mut said = lower(check.severity);
    if let Some(severity) = check.severity_only_one {
        let only = language.say("checks-severity-only-one").with("severity", said);
        said = only.with("other", lower(severity)).into();
    }
    if let Some(severity) = check.severity_common_area {
        let common = language.say("checks-severity-common-area").with("severity", said);
        said = common.with("other", lower(severity)).into();
    }
    said
}
