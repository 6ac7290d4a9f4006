//! The due list, the load of the year, buildings, units and checks in Spanish: no English is left but what people wrote; and what the
//! catalogue says in English of a moved date, a season, a calendar and an age is what the domain says.

use std::collections::BTreeSet;

use anglestop::domain::code::Coded as _;
use anglestop::domain::due::{
    ClosedDays, Closing, ClosingKind, DayOfWeek, Moving, OnClosedDays, Season, WorkCalendar, WorkingDays,
    moved_in_words, why_moved,
};
use anglestop::domain::trade::{Answer, Check, Standing};
use anglestop::exchange::catalogue::builtin;
use anglestop::language::{self, Language};
use chrono::NaiveDate;

use super::pages::{AT, fit, none_left, reads, texts, words};
use crate::support::server::Server;
use crate::support::{Fleet, demo, on_both, sqlite};

/// What people wrote, and the names of zones and codes.
fn names(fleet: &Fleet) -> BTreeSet<String> {
    let queries = [
        "SELECT name AS text FROM people",
        "SELECT name AS text FROM portfolios",
        "SELECT name AS text FROM buildings",
        "SELECT code AS text FROM buildings",
        "SELECT address AS text FROM buildings",
        "SELECT time_zone AS text FROM buildings",
        "SELECT name AS text FROM rooms",
        "SELECT label AS text FROM units",
        "SELECT label AS text FROM tags",
        "SELECT name AS text FROM households",
        "SELECT agreed_hours AS text FROM households",
        "SELECT no_entry_days AS text FROM households",
        "SELECT title AS text FROM deficiencies",
        "SELECT maker AS text FROM fixtures",
        "SELECT model AS text FROM fixtures",
        "SELECT name AS text FROM schedules",
        "SELECT name AS text FROM closings",
        "SELECT code AS text FROM checks",
        "SELECT title AS text FROM checks WHERE origin = 'own'",
    ];
    let all: Vec<String> = queries.iter().flat_map(|query| texts(fleet, query)).collect();
    let mut names = words(&all);
    names.extend(words(&published()));
    names.extend(ALIKE.map(str::to_owned));
    names
}

/// Words that both languages write alike, and names.
const ALIKE: [&str; 9] = [
    "fahrenheit",
    "henriques",
    "moritz",
    "inclusive",
    "cables",
    "conductor",
    "usual",
    "local",
    // Of the code of a profile: ADA_DWELLING.
    "dwelling",
];

/// Publications keep their names; what is common practice is said in the language of the reader.
pub(super) fn published() -> Vec<String> {
    let sources = |check: &Check| {
        let limits = match &check.answer {
            Answer::Reading { limits, .. } => limits.iter().map(|limit| limit.source.clone()).collect(),
            Answer::Verdict { .. } => Vec::new(),
        };
        let age = check.conditions.building_age.iter().map(|age| age.source.clone());
        let own = [&check.source, &check.severity_source, &check.minutes_source];
        own.into_iter()
            .cloned()
            .chain(limits)
            .chain(age)
            .collect::<Vec<_>>()
    };
    let all = builtin().unwrap().checks.iter().flat_map(sources);
    let published = all.filter(|source| source.standing != Standing::CommonPractice);
    published.map(|source| source.citation).collect()
}

/// Every page of places, those of buildings and units each with what there is on it.
fn pages(fleet: &Fleet) -> Vec<String> {
    let fixed = [
        "/due",
        "/due?order=building",
        "/due?state=later",
        "/due?state=all&unit=101",
        "/due?state=due&kind=sump_pump&technician=nobody",
        "/due/load",
        "/buildings",
        "/checks",
        "/checks?kind=water_heater&origin=builtin",
        "/checks?kind=crawl_space&origin=own",
    ];
    let mut pages: Vec<String> = fixed.map(str::to_owned).to_vec();
    for query in [
        "SELECT '/due/load?building=' || code AS text FROM buildings",
        "SELECT '/buildings/' || code AS text FROM buildings",
        "SELECT '/buildings/' || code || '?as_of=2026-06-01' AS text FROM buildings",
        "SELECT '/buildings/' || code || '/water' AS text FROM buildings",
        "SELECT '/units/' || CAST(id AS TEXT) AS text FROM units ORDER BY id",
        "SELECT '/checks/' || code AS text FROM checks WHERE origin = 'builtin' ORDER BY code",
    ] {
        let found = texts(fleet, query);
        assert!(!found.is_empty(), "{query}");
        pages.extend(found);
    }
    pages
}

#[test]
fn no_english_is_left_on_the_pages_of_places() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        demo::enliven(fleet, &server);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let names = names(fleet);
        none_left((&spanish, &english), &pages(fleet), &names);
    });
}

/// What a list keeps of a window is kept for each language.
#[test]
fn a_due_list_that_was_read_in_one_language_is_read_in_another() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let (manager, technician) = (server.signed_in("manager"), server.signed_in("technician"));
    for _ in 0..2 {
        let (english, spanish) = (manager.get("/due").body, technician.get("/due").body);
        assert!(
            english.contains(" over</span>") && english.contains("<title>"),
            "{english}"
        );
        assert!(!english.contains("de atraso"), "{english}");
        assert!(
            spanish.contains(" de atraso</span>") && spanish.contains("; se abre "),
            "{spanish}"
        );
        assert!(!spanish.contains(" over"), "{spanish}");
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn calendar() -> WorkCalendar {
    let (week, _) = DayOfWeek::ALL.split_at(5);
    let closing = |kind, name: &str, start, days| Closing {
        kind,
        name: name.to_owned(),
        start: day(start),
        rule: None,
        days,
    };
    WorkCalendar {
        working_days: WorkingDays::of(week).unwrap(),
        closings: vec![
            closing(ClosingKind::PublicHoliday, "Christmas Day", "2026-12-25", 1),
            closing(ClosingKind::ShutDown, "Painting", "2026-12-21", 14),
        ],
    }
}

#[test]
fn the_english_of_a_moved_date_is_that_of_the_domain() {
    let (today, closed) = (day("2026-11-27"), ClosedDays::of(calendar(), day("2026-01-01")));
    let spanish = Language::of("es");
    for on_closed_days in [OnClosedDays::Forward, OnClosedDays::Back] {
        let season = Season::of([4, 5, 6, 12, 1]);
        for season in [None, season] {
            let moving = Moving {
                on_closed_days,
                season,
                ..Moving::default()
            };
            for days in 0..400 {
                let from = day("2026-01-05") + chrono::TimeDelta::days(days);
                let to = moving.moved(from, day("2026-01-01"), &closed);
                if to == from {
                    continue;
                }
                let why = why_moved(moving, (from, to), &closed);
                assert_eq!(
                    Language::ENGLISH.moved(from, why, today),
                    moved_in_words(moving, (from, to), &closed, today)
                );
                assert!(spanish.moved(from, why, today).starts_with("movida del "));
            }
        }
    }
}

#[test]
fn the_english_of_seasons_calendars_and_ages_is_that_of_the_domain() {
    for months in [
        vec![1],
        vec![3, 6],
        vec![4, 5, 6, 7],
        vec![11, 12, 1, 2],
        vec![2, 3],
        vec![1, 3, 4, 12],
    ] {
        let season = Season::of(months).unwrap();
        assert_eq!(Language::ENGLISH.season(season), season.in_words());
    }
    let spanish = Language::of("es");
    assert_eq!(spanish.season(Season::of([4, 5, 6]).unwrap()), "abril a junio");
    for mask in 1_u8..128 {
        let days = DayOfWeek::ALL.iter().enumerate();
        let chosen: Vec<DayOfWeek> = days
            .filter(|(at, _)| mask >> at & 1 == 1)
            .map(|(_, day)| *day)
            .collect();
        let calendar = WorkCalendar {
            working_days: WorkingDays::of(&chosen).unwrap(),
            ..WorkCalendar::default()
        };
        assert_eq!(Language::ENGLISH.work_calendar(&calendar), calendar.in_words());
    }
    assert_eq!(
        Language::ENGLISH.work_calendar(&calendar()),
        calendar().in_words()
    );
    assert_eq!(
        spanish.work_calendar(&calendar()),
        "lunes a viernes, 1 feriado, 1 período de cierre"
    );
    let today = day("2026-03-10");
    for days in 0..1_500 {
        let from = today - chrono::TimeDelta::days(days);
        assert_eq!(Language::ENGLISH.age(from, today), language::age(from, today));
    }
    assert_eq!(spanish.age(day("2019-03-10"), today), "7 años");
}

/// Longer words fit on the smallest phone, also at twice the text.
#[test]
fn the_pages_of_places_fit_a_small_phone_in_spanish() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let unit = texts(
        &fleet,
        "SELECT '/units/' || CAST(min(unit_id) AS TEXT) AS text FROM deficiencies",
    );
    let fixed = [
        "/due",
        "/due?order=building",
        "/due/load",
        "/buildings",
        "/buildings/ALDER-HOUSE",
        "/buildings/ALDER-HOUSE/water",
        "/checks",
        "/checks/heater_flue",
        "/checks/wc_clearance_side",
    ];
    let paths: Vec<&str> = fixed.into_iter().chain(unit.iter().map(String::as_str)).collect();
    fit(&server, &paths);
}
