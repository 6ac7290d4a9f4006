//! Numbers, dates and plurals, in both languages.

use anglestop::domain::due::{Window, due_in_words, sentence};
use anglestop::language::{self, Language};
use chrono::NaiveDate;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn both() -> [Language; 2] {
    [Language::ENGLISH, Language::of("es")]
}

#[test]
fn a_date_carries_its_year_when_it_is_not_this_one() {
    let [english, spanish] = both();
    let (date, today) = (day("2026-02-03"), day("2026-11-27"));
    assert_eq!(english.day(date, today), "Tue 3 Feb");
    assert_eq!(spanish.day(date, today), "mar 3 feb");
    assert_eq!(spanish.day(date, day("2027-01-01")), "mar 3 feb 2026");
    let instant = "2026-02-03T20:05:00".parse().unwrap();
    let zone = "America/Chicago".parse().unwrap();
    assert_eq!(english.moment(instant, zone, today), "Tue 3 Feb, 14:05");
    assert_eq!(spanish.moment(instant, zone, today), "mar 3 feb, 14:05");
    assert_eq!(
        spanish.moment_in_full(instant, zone),
        "mar 3 feb 2026, 14:05 (America/Chicago)"
    );
}

/// What pages outside of the catalogue say is what the catalogue says in English, whatever the day.
#[test]
fn the_english_of_the_catalogue_is_the_english_of_the_domain() {
    let today = day("2026-03-10");
    for days in -800..800 {
        let date = today + chrono::TimeDelta::days(days);
        assert_eq!(Language::ENGLISH.day(date, today), language::day(date, today));
        assert_eq!(
            Language::ENGLISH.distance(date, today),
            language::distance(date, today)
        );
    }
    for number in [0, 7, 999, 1_000, 1_240, 1_000_000] {
        assert_eq!(Language::ENGLISH.grouped(number), language::grouped(number));
        assert_eq!(
            Language::ENGLISH.count("figures-units", number),
            language::count(number, "unit", "units")
        );
    }
}

#[test]
fn plurals_follow_the_rules_of_the_language() {
    let [english, spanish] = both();
    let said = |language: Language| [0, 1, 2, 1_240].map(|count| language.count("figures-units", count));
    assert_eq!(said(english), ["0 units", "1 unit", "2 units", "1,240 units"]);
    assert_eq!(
        said(spanish),
        ["0 unidades", "1 unidad", "2 unidades", "1,240 unidades"]
    );
    let today = day("2026-02-03");
    let distances = |language: Language| {
        [
            "2026-02-02",
            "2026-02-03",
            "2026-02-04",
            "2026-02-09",
            "2026-01-20",
        ]
        .map(|date| language.distance(day(date), today))
    };
    assert_eq!(
        distances(english),
        ["yesterday", "today", "tomorrow", "in 6 days", "14 days ago"]
    );
    assert_eq!(
        distances(spanish),
        ["ayer", "hoy", "mañana", "en 6 días", "hace 14 días"]
    );
}

#[test]
fn a_browser_is_answered_in_the_language_that_it_would_rather_read() {
    let wished = |header| Language::wished_for(header).map(Language::tag);
    assert_eq!(wished("es-419,es;q=0.9,en;q=0.8"), Some("es"));
    assert_eq!(wished("en;q=0.5, es;q=0.7"), Some("es"));
    assert_eq!(wished("de, en-GB;q=0.3"), Some("en"));
    assert_eq!(
        wished("es;q=0, en;q=0.1"),
        Some("en"),
        "a weight of none is a refusal"
    );
    assert_eq!(wished("de"), None);
    assert_eq!(wished(""), None);
}

#[test]
fn a_due_date_is_said_as_the_domain_says_it_and_in_spanish() {
    let [english, spanish] = both();
    let window = Window::around(day("2026-06-01"), 30, 14);
    for offset in -60..60 {
        let today = window.due() + chrono::TimeDelta::days(offset);
        assert_eq!(english.due(&window, today), sentence(&window, today));
        assert_eq!(english.due_on(&window, today), due_in_words(&window, today, ""));
    }
    let said = |today| spanish.due(&window, day(today));
    assert_eq!(said("2026-05-01"), "se abre sáb 2 may");
    assert_eq!(said("2026-05-27"), "toca en 5 días");
    assert_eq!(said("2026-05-31"), "toca mañana");
    assert_eq!(said("2026-06-01"), "toca hoy");
    assert_eq!(said("2026-06-06"), "pendiente, quedan 9 días");
    assert_eq!(said("2026-06-15"), "pendiente, hoy es el último día");
    assert_eq!(said("2026-06-16"), "1 día de atraso");
    assert_eq!(said("2026-06-24"), "9 días de atraso");
    assert_eq!(spanish.due_on(&window, day("2026-05-27")), "toca lun 1 jun");
}
