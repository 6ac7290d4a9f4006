//! A schedule's scope and pack as people read them.

use chrono::NaiveDate;

use crate::domain::due::{FAILURE_MONTHS, Scope};
use crate::domain::field::capital;
use crate::domain::trade::catalogue::Pack;
use crate::language;
use crate::picture::year::Year;

/// "Water closets", with its parts, in which buildings, at which places, how old.
pub fn scope(scope: &Scope) -> String {
    let mut said = Vec::new();
    said.push(if scope.kinds.is_empty() {
        "every fixture that fits".to_owned()
    } else {
        listed(scope.kinds.iter().map(|kind| kind.name().to_lowercase()))
    });
    if !scope.parts.is_empty() {
        let parts = listed(scope.parts.iter().map(|part| part.name().to_lowercase()));
        said.push(format!("only the {parts}"));
    }
    if !scope.tags.is_empty() {
        said.push(format!("at {}", listed(scope.tags.iter().cloned())));
    }
    if !scope.buildings.is_empty() {
        said.push(format!("in {}", listed(scope.buildings.iter().cloned())));
    }
    let years = |years: u16| language::count(usize::from(years), "year", "years");
    match (scope.min_age_years, scope.max_age_years) {
        (None, None) => {}
        (Some(min), None) => said.push(format!("from {} of age", years(min))),
        (None, Some(max)) => said.push(format!("up to {} of age", years(max))),
        (Some(min), Some(max)) => said.push(format!("from {min} to {} of age", years(max))),
    }
    match scope.min_failures {
        None => {}
        Some(1) => said.push(format!("where it failed within {FAILURE_MONTHS} months")),
        Some(times) => said.push(format!(
            "where it failed {times} times within {FAILURE_MONTHS} months"
        )),
    }
    capital(&said.join(", "))
}

/// The pack's name; what the office made itself has none.
pub fn pack(pack: Option<Pack>) -> &'static str {
    pack.map_or("Your own", Pack::name)
}

/// The year from today as a picture; nothing when none of the days lies in it, as of a rule of every other year.
pub fn year(title: String, days: Vec<NaiveDate>, today: NaiveDate) -> String {
    let year = Year {
        title,
        from: today,
        days,
    };
    if year.is_bare() {
        return String::new();
    }
    crate::picture::year::year(&year)
}

/// What a pack is for, in a sentence or two.
pub fn about(pack: Option<Pack>) -> &'static str {
    match pack {
        Some(Pack::Yearly) => "What one visit a year into each unit looks at. It is on from the first day.",
        Some(Pack::HalfYearly) => {
            "The same by two visits a year. Switch it on and the yearly pack off; while both are on, both ask and the earlier one is shown."
        }
        Some(Pack::Resident) => {
            "What residents test themselves. It is recorded when somebody says so, and never on the due list."
        }
        Some(Pack::Chosen) => "Costly, intrusive or licensed work. Each schedule is off until you choose it.",
        None => "Schedules that your office made or copied.",
    }
}

fn listed(words: impl Iterator<Item = String>) -> String {
    let words: Vec<String> = words.collect();
    match words.as_slice() {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::trade::{FixtureKind, PartKind};

    #[test]
    fn a_scope_is_said_from_kind_to_age() {
        let narrow = Scope {
            kinds: vec![FixtureKind::WaterCloset, FixtureKind::Urinal],
            parts: vec![PartKind::WaxSeal],
            buildings: vec!["ALDER".to_owned()],
            tags: Vec::new(),
            min_age_years: Some(8),
            max_age_years: None,
            min_failures: Some(2),
        };
        assert_eq!(
            scope(&narrow),
            "Water closet and urinal, only the wax seal, in ALDER, from 8 years of age, where it failed 2 times within 24 months"
        );
        assert_eq!(scope(&Scope::default()), "Every fixture that fits");
    }
}
