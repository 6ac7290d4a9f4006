//! Turnovers, recording, planning a visit and taking down a report in Spanish: no English is left on the pages, nor where a form is
//! refused; and what the catalogue says in English of a turnover is what the domain says.

use anglestop::actions::turnovers::refusal;
use anglestop::clock::Now;
use anglestop::domain::register::TurnoverId;
use anglestop::domain::register::person::Scope;
use anglestop::domain::trade::outcome::Context;
use anglestop::domain::turnover::{Stage, answered, blocks};
use anglestop::language::Language;
use anglestop::store::lists::turnovers::{Survey, Surveyor};
use scraper::{Html, Selector};

use super::pages::{AT, fit, left, left_in, names, reads, texts};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, demo, on_both, sqlite};

/// Addresses that a query makes.
fn addresses(fleet: &Fleet, query: &str) -> Vec<String> {
    let found = texts(fleet, query);
    assert!(!found.is_empty(), "{query}");
    found
}

/// Every page here, each with what there is on it: every turnover with each part of its checklist, each kind of fixture once, every unit
/// with a turnover, a deficiency or a planned visit.
fn pages(fleet: &Fleet) -> Vec<String> {
    let mut pages: Vec<String> = [
        "/turnovers",
        "/turnovers?show=over",
        "/turnovers/new",
        "/visits/new",
    ]
    .map(str::to_owned)
    .to_vec();
    for page in [
        "",
        "?stage=found",
        "?stage=ready",
        "?stage=move_in",
        "?cancel=yes",
    ] {
        let query = format!(
            "SELECT '/turnovers/' || CAST(id AS TEXT) || '{page}' AS text FROM turnovers ORDER BY id"
        );
        pages.extend(addresses(fleet, &query));
    }
    let busy = "SELECT unit_id FROM turnovers UNION SELECT unit_id FROM deficiencies UNION SELECT unit_id FROM visits";
    for page in ["record", "now", "report"] {
        let query = format!(
            "SELECT '/units/' || CAST(id AS TEXT) || '/{page}' AS text FROM units WHERE id IN ({busy}) ORDER BY id"
        );
        pages.extend(addresses(fleet, &query));
    }
    for page in ["/turnovers/new?unit=", "/visits/new?unit="] {
        let query = format!(
            "SELECT '{page}' || CAST(id AS TEXT) AS text FROM units WHERE id IN ({busy}) ORDER BY id LIMIT 6"
        );
        pages.extend(addresses(fleet, &query));
    }
    pages.extend(addresses(
        fleet,
        "SELECT '/fixtures/' || CAST(min(id) AS TEXT) || '/record' AS text FROM fixtures WHERE status = 'in_service' GROUP BY kind",
    ));
    pages
}

/// What the forms refuse, of what a person can do wrong on a page: from which page, where it is sent, what is typed.
fn refused(fleet: &Fleet) -> Vec<(String, String, Vec<(&'static str, &'static str)>)> {
    let first = |query: &str| addresses(fleet, query).swap_remove(0);
    let open = first(
        "SELECT '/turnovers/' || CAST(id AS TEXT) AS text FROM turnovers WHERE stage = 'found' ORDER BY id",
    );
    let unit = first("SELECT CAST(min(unit_id) AS TEXT) AS text FROM deficiencies");
    let plan = format!("/visits/new?unit={unit}");
    let report = format!("/units/{unit}/report");
    let new = "/turnovers/new".to_owned();
    vec![
        (open.clone(), format!("{open}/advance"), vec![("to", "repaired")]),
        (open.clone(), format!("{open}/advance"), vec![("to", "ready")]),
        (open.clone(), format!("{open}/close"), vec![("name", "")]),
        (open.clone(), format!("{open}/close"), vec![("name", "X. Y")]),
        (
            format!("{open}?cancel=yes"),
            format!("{open}/cancel"),
            vec![("reason", "")],
        ),
        (new.clone(), new.clone(), vec![("move_out_on", "x")]),
        (
            new.clone(),
            new.clone(),
            vec![("unit", unit_of(fleet)), ("move_out_on", "03.02.2026")],
        ),
        (report.clone(), report, vec![("title", "")]),
        (
            plan.clone(),
            "/visits".to_owned(),
            vec![("unit", unit_of(fleet)), ("on_date", "2020-01-02")],
        ),
        (
            plan,
            "/visits".to_owned(),
            vec![("unit", unit_of(fleet)), ("on_date", "26 Nov")],
        ),
        (
            "/visits/new".to_owned(),
            "/visits".to_owned(),
            vec![("unit", ""), ("label", "204")],
        ),
    ]
}

/// The key of a unit without a turnover, as long as the test runs.
fn unit_of(fleet: &Fleet) -> &'static str {
    let query = "SELECT CAST(min(id) AS TEXT) AS text FROM units WHERE occupancy = 'occupied'";
    Box::leak(addresses(fleet, query).swap_remove(0).into_boxed_str())
}

/// The questions of a page as its form carries them.
fn keys(page: &Html) -> Vec<String> {
    let asks = Selector::parse("input[name=ask]").unwrap();
    let asks = page.select(&asks);
    asks.map(|ask| ask.attr("value").unwrap().to_owned()).collect()
}

/// The questions of a page, each answered so that it is refused: a figure that is none, a note without an answer.
fn answered_wrongly(browser: &Browser, address: &str) -> Html {
    let page = browser.get(address);
    let token = page.csrf();
    let document = page.page();
    let keys = keys(&document);
    let mut fields = vec![("csrf".to_owned(), token)];
    for key in &keys {
        let words: Vec<&str> = key.split(' ').collect();
        fields.push(("ask".to_owned(), key.clone()));
        fields.push(match words[6] {
            "reading" => (format!("reading-{}", words[0]), "1x".to_owned()),
            _ => (format!("outcome-{}", words[0]), "pass".to_owned()),
        });
    }
    let fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let answer = browser.send(address, &fields);
    assert_eq!(answer.status, 422, "{address}: {}", answer.body);
    answer.page()
}

#[test]
fn no_english_is_left_on_turnovers_recording_and_planning() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        demo::enliven(fleet, &server);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let names = names(fleet);
        let mut faults = Vec::new();
        for path in pages(fleet) {
            faults.extend(left(&spanish, &english, &path, &names));
        }
        for (from, to, fields) in refused(fleet) {
            let ask = |browser: &Browser| {
                let answer = browser.submit(&from, &to, &fields);
                assert_eq!(answer.status, 422, "{to} {fields:?}: {}", answer.body);
                answer.page()
            };
            let what = format!("{to} {fields:?}");
            faults.extend(left_in(&ask(&spanish), &ask(&english), &what, &names));
        }
        let fixture = addresses(
            fleet,
            "SELECT '/fixtures/' || CAST(min(id) AS TEXT) || '/record' AS text FROM fixtures WHERE kind = 'water_heater' AND status = 'in_service'",
        );
        let wrong = |browser: &Browser| answered_wrongly(browser, &fixture[0]);
        faults.extend(left_in(&wrong(&spanish), &wrong(&english), &fixture[0], &names));
        assert!(faults.is_empty(), "\n{}", faults.join("\n"));
    });
}

/// What came of answers, and the words that a page says once after something was done.
#[test]
fn what_came_of_answers_is_said_in_spanish() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let browser = server.signed_in("technician");
    let query = "SELECT '/fixtures/' || CAST(min(id) AS TEXT) || '/record' AS text FROM fixtures WHERE kind = 'water_closet' AND status = 'in_service'";
    let address = addresses(&fleet, query).swap_remove(0);
    let page = browser.get(&address);
    let keys = keys(&page.page());
    let verdicts: Vec<&String> = keys.iter().filter(|key| key.ends_with("verdict")).collect();
    let number = |key: &str| key.split(' ').next().unwrap().to_owned();
    let (fails, missed) = (number(verdicts[0]), number(verdicts[1]));
    let (fails, missed) = (format!("outcome-{fails}"), format!("outcome-{missed}"));
    let reason = missed.replace("outcome", "reason");
    let token = page.csrf();
    let fields = [
        ("csrf", token.as_str()),
        ("ask", verdicts[0]),
        ("ask", verdicts[1]),
        (&fails, "fail"),
        (&missed, "not_checked"),
        (&reason, "no_tool"),
    ];
    let sent = browser.send(&address, &fields);
    assert_eq!(sent.status, 303, "{}", sent.body);
    let done = browser.get(&sent.location);
    assert!(
        done.body.contains("<h1>2 resultados registrados</h1>"),
        "{}",
        done.body
    );
    assert!(done.body.contains("<h2>Abiertas</h2>"), "{}", done.body);
    assert!(
        done.body.contains("Falta la herramienta o la pieza"),
        "{}",
        done.body
    );
    let english = server.signed_in("manager");
    let faults = left(&browser, &english, &sent.location, &names(&fleet));
    assert!(faults.is_empty(), "{faults:?}");
}

fn surveys(fleet: &Fleet) -> Vec<Survey> {
    let ids = texts(
        fleet,
        "SELECT CAST(id AS TEXT) AS text FROM turnovers ORDER BY id",
    );
    let read = fleet.db.read(|conn| {
        let surveyor = Surveyor::new(conn, Now(AT.parse().unwrap()))?;
        let one = |id: &String| surveyor.survey(conn, &Scope::All, TurnoverId(id.parse().unwrap()));
        ids.iter().map(one).collect()
    });
    read.unwrap()
}

/// The catalogue repeats in English what the domain says of a turnover; the day of a waiver that ended and every stage among it.
#[test]
fn the_english_of_a_turnover_is_that_of_the_domain() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let server = Server::start(&fleet.db, AT);
    demo::enliven(&fleet, &server);
    let english = Language::ENGLISH;
    let (mut compared, mut answers) = (0, 0);
    for survey in surveys(&fleet) {
        let facts = &survey.building.facts;
        let limits = Context {
            profile: facts.code_profile.clone(),
            length_unit: facts.length_unit,
        };
        for to in [Stage::Repaired, Stage::Ready, Stage::MovedIn] {
            let blocks = blocks::blocks(
                to,
                &survey.list,
                &survey.deficiencies,
                &survey.waivers,
                survey.days(),
            );
            for block in &blocks {
                assert_eq!(english.block(block, &survey.list), block.sentence());
                assert_eq!(english.block_short(block), block.short());
                compared += 1;
            }
            assert_eq!(english.not_yet(to, &blocks, &survey.list), refusal(to, &blocks));
        }
        for item in &survey.list.items {
            assert_eq!(english.item(&survey.list, item), survey.list.name(item));
            let Some(answer) = item.last() else { continue };
            let said = answered::in_words(&item.check, &answer.entry, &limits);
            assert_eq!(english.answer(&item.check, &answer.entry, &limits), said);
            answers += 1;
        }
    }
    assert!(compared > 3 && answers > 20, "{compared} {answers}");
}

/// Longer words fit on the smallest phone, also when they are read at twice the size.
#[test]
fn spanish_turnovers_fit_a_small_phone_and_twice_the_text() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let one = |query: &str| addresses(&fleet, query).swap_remove(0);
    let unit = one("SELECT CAST(min(unit_id) AS TEXT) AS text FROM deficiencies");
    let turnovers = "SELECT '/turnovers/' || CAST(min(id) AS TEXT) AS text FROM turnovers WHERE stage";
    let paths = [
        "/turnovers".to_owned(),
        "/turnovers/new".to_owned(),
        one(&format!("{turnovers} = 'found'")),
        one(&format!("{turnovers} = 'moved_in'")),
        format!("/units/{unit}/record"),
        format!("/units/{unit}/now"),
        format!("/units/{unit}/report"),
        format!("/visits/new?unit={unit}"),
    ];
    fit(&server, &paths);
}
