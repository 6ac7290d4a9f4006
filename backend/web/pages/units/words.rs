//! The words of a unit that several pages say alike.

use chrono::NaiveDate;

use crate::domain::register::{Building, Entry, Installed, Unit, UnitFacts, UnitKind};
use crate::language::Language;

/// What a unit is and whether somebody lives there: `vacant`, `common area, off line`.
#[must_use]
pub fn occupancy(language: Language, facts: &UnitFacts) -> String {
    use crate::domain::register::Occupancy;
    let state = || language.word(facts.occupancy).to_lowercase();
    match (facts.kind, facts.occupancy) {
        (UnitKind::Unit, _) => state(),
        (UnitKind::CommonArea, Occupancy::Occupied) => language.say("units-common-area").into(),
        (UnitKind::CommonArea, _) => format!("{}, {}", language.say("units-common-area"), state()),
    }
}

/// What a heading calls it: `Unit 204`, or a common area by its own label.
#[must_use]
pub fn heading(language: Language, facts: &UnitFacts) -> String {
    match facts.kind {
        UnitKind::Unit => language.say("units-heading").with("unit", &facts.label).into(),
        UnitKind::CommonArea => facts.label.clone(),
    }
}

/// Where a unit is, beneath its heading.
#[must_use]
pub fn whereabouts(language: Language, building: &Building, unit: &Unit, today: NaiveDate) -> String {
    let floor = language
        .say("units-floor")
        .with("floor", unit.facts.floor.to_string());
    let mut words = vec![building.facts.name.clone(), floor.into()];
    if let Some(riser) = unit.facts.riser {
        words.push(
            language
                .say("units-riser")
                .with("riser", riser.to_string())
                .into(),
        );
    }
    words.push(occupancy(language, &unit.facts));
    words.push(language.day(today, today));
    words.join(" · ")
}

/// When something was installed, with its age: `Tue 3 Feb 2019, 7 years`, `about Jul 2019, 7 years`, `not known`.
#[must_use]
pub fn installed(language: Language, installed: Installed, today: NaiveDate) -> String {
    let aged = |words: String, date| match language.age(date, today) {
        age if age.is_empty() => words,
        age => format!("{words}, {age}"),
    };
    match installed {
        Installed::Unknown => language.say("units-not-known").into(),
        Installed::On(date) => aged(language.day(date, today), date),
        Installed::About(date) => {
            let about = language.say("units-about");
            aged(about.with("month", language.month_of_year(date)).into(), date)
        }
    }
}

/// A language tag with the language's English name where it is a common one.
#[must_use]
pub fn spoken(tag: &str) -> String {
    const NAMES: &[(&str, &str)] = &[
        ("en", "English"),
        ("es", "Spanish"),
        ("fr", "French"),
        ("de", "German"),
        ("pt", "Portuguese"),
        ("zh", "Chinese"),
        ("vi", "Vietnamese"),
        ("tl", "Tagalog"),
        ("ar", "Arabic"),
        ("ru", "Russian"),
        ("ko", "Korean"),
        ("pl", "Polish"),
        ("ht", "Haitian Creole"),
        ("so", "Somali"),
        ("uk", "Ukrainian"),
    ];
    let primary = tag.split('-').next().unwrap_or(tag).to_lowercase();
    NAMES
        .iter()
        .find(|(known, _)| *known == primary)
        .map_or_else(|| tag.to_owned(), |(_, name)| (*name).to_owned())
}

/// What an entry needs, as facts of a page in English.
#[must_use]
pub fn entry(entry: &Entry, notice_hours: i64) -> Vec<crate::web::choice::Fact> {
    entry_in(Language::ENGLISH, entry, notice_hours)
}

/// What an entry needs, as facts of a page. What was noted of the household stays as it was written.
#[must_use]
pub fn entry_in(language: Language, entry: &Entry, notice_hours: i64) -> Vec<crate::web::choice::Fact> {
    use crate::web::choice::Fact;
    let or_none = |text: &str| -> String {
        if text.is_empty() {
            language.say("entry-none").into()
        } else {
            text.to_owned()
        }
    };
    let hours = usize::try_from(notice_hours).unwrap_or(0);
    let spoken = match Language::known(&entry.language) {
        Some(known) if language != Language::ENGLISH => known.name(),
        _ => spoken(&entry.language),
    };
    vec![
        Fact::new(language.say("entry-household"), &entry.name),
        Fact::new(language.say("language"), spoken),
        Fact::new(language.say("entry-hours"), or_none(&entry.agreed_hours)),
        Fact::new(language.say("entry-no-days"), or_none(&entry.no_entry_days)),
        Fact::new(
            language.say("entry-notice"),
            language.say("entry-notice-hours").with("count", hours),
        ),
    ]
}
