//! Pages of deficiencies, of water, of fixtures and their parts in Spanish: no English is left but what people wrote.

use std::collections::BTreeSet;

use anglestop::exchange::catalogue::builtin;
use anglestop::language::{Language, catalogue};

use super::pages::{AT, left, reads, texts, words};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, demo, on_both};

/// What people wrote. Titles of deficiencies only where a resident reported: the others are composed anew.
fn names(fleet: &Fleet) -> BTreeSet<String> {
    let queries = [
        "SELECT name AS text FROM people",
        "SELECT name AS text FROM buildings",
        "SELECT code AS text FROM buildings",
        "SELECT name AS text FROM rooms",
        "SELECT label AS text FROM units",
        "SELECT label AS text FROM tags",
        "SELECT title AS text FROM deficiencies WHERE source = 'report'",
        "SELECT detail AS text FROM deficiencies",
        "SELECT parts_used AS text FROM deficiencies",
        "SELECT vendor AS text FROM deficiencies",
        "SELECT note AS text FROM results",
        "SELECT note AS text FROM fixtures",
        "SELECT maker AS text FROM fixtures",
        "SELECT model AS text FROM fixtures",
        "SELECT note AS text FROM diagnoses",
    ];
    let all: Vec<String> = queries.iter().flat_map(|query| texts(fleet, query)).collect();
    let mut names = words(&all);
    // Publications and programmes keep their names; a figure is typed in the letters of the office.
    let published = [
        "marshall",
        "swift",
        "nahb",
        "ibhs",
        "nfpa",
        "nspire",
        "awwa",
        "usgs",
        "drip",
        "calculator",
        "accumulator",
        "chicago",
        "tribune",
        "watersense",
        "none",
        "default",
        "voucher",
        "total",
        "water",
        "closet",
        "ansi",
        "epact",
        "usual",
        "grave",
    ];
    names.extend(published.map(str::to_owned));
    names
}

/// The addresses of a query that the person may see.
fn seen(fleet: &Fleet, browser: &Browser, query: &str) -> Vec<String> {
    let mut addresses = texts(fleet, query);
    addresses.retain(|path| browser.get(path).status == 200);
    addresses
}

/// Something of each kind that happens to a deficiency.
fn work_on(browser: &Browser, path: &str) {
    let send = |action: &str, fields: &[(&str, &str)]| {
        let answer = browser.submit(path, &format!("{path}/{action}"), fields);
        assert_eq!(answer.status, 303, "{path}/{action}: {}", answer.body);
    };
    send("note", &[("note", "xyz")]);
    send("assign", &[("to", "vendor"), ("vendor", "Xyz")]);
    send("assign", &[("to", "")]);
    send(
        "repaired",
        &[
            ("parts_used", "xyz"),
            ("minutes", "35"),
            ("cost", "84.50"),
            ("repair_note", "xyz"),
        ],
    );
    send("water", &[("method", "drips"), ("per_minute", "60")]);
    send("water", &[("method", "cup"), ("ounces", "8"), ("seconds", "45")]);
}

#[test]
fn no_english_is_left_on_the_pages_of_deficiencies() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let open = "SELECT '/deficiencies/' || CAST(id AS TEXT) AS text FROM deficiencies WHERE status <> 'closed' ORDER BY id";
        let standing = seen(fleet, &spanish, open);
        for path in standing.iter().take(2) {
            work_on(&english, path);
        }
        let every = "SELECT '/deficiencies/' || CAST(id AS TEXT) AS text FROM deficiencies ORDER BY status, id DESC LIMIT 60";
        let mut paths = seen(fleet, &spanish, every);
        assert!(standing.len() > 2 && paths.len() > standing.len());
        for path in &standing {
            paths.push(format!("{path}/choice?repair=84.50&replace=310"));
            paths.push(format!("{path}/water"));
        }
        for method in ["drips", "cup", "tank", "cycle", "meter", "pinhole"] {
            paths.push(format!("{}/water?method={method}", standing[0]));
        }
        for fixed in [
            "",
            "?status=all",
            "?status=closed",
            "?status=repaired",
            "?severity=low&status=open",
            "/times",
        ] {
            paths.push(format!("/deficiencies{fixed}"));
        }
        let names = names(fleet);
        let faults: BTreeSet<String> = paths
            .iter()
            .flat_map(|path| left(&spanish, &english, path, &names))
            .collect();
        assert!(faults.is_empty(), "\n{}", Vec::from_iter(faults).join("\n"));
    });
}

#[test]
fn a_title_is_read_in_the_language_and_stays_as_it_was_kept() {
    let check = builtin().unwrap().check("wc_tank_firm").unwrap();
    let spanish = Language::of("es");
    let kept = format!("{}: Moves on the bowl", check.title);
    assert_eq!(
        spanish.deficiency(Some(check), &kept),
        "Tanque firme sobre la taza: Se mueve sobre la taza"
    );
    assert_eq!(Language::ENGLISH.deficiency(Some(check), &kept), kept);
    assert_eq!(
        spanish.deficiency(Some(check), "Another title: Moves on the bowl"),
        "Another title: Moves on the bowl",
        "the check was worded anew since"
    );
    assert_eq!(
        spanish.deficiency(None, "Tank loose"),
        "Tank loose",
        "a report is as typed"
    );
    let refill = builtin().unwrap().check("wc_refill").unwrap();
    let said = spanish.judged(Some(refill), "240 s is over 180 s (common practice: refill bands differ: 30 to 90 s usual, slow to 180 s, restricted beyond)");
    assert!(
        said.starts_with("240 s pasa de 180 s (práctica común: hay varias opiniones"),
        "{said}"
    );
    assert_eq!(
        spanish.judged(Some(check), "No access to the room"),
        "Sin acceso al cuarto"
    );
    assert_eq!(
        spanish.judged(Some(check), "what a person wrote"),
        "what a person wrote"
    );
}

/// What puts a cause right keeps every figure that English has, and no symptom, question, reply or cause is left out.
#[test]
fn every_symptom_and_cause_is_translated_with_its_figures() {
    let figures = |text: &str| -> Vec<String> {
        let parts = text.split(|c: char| !c.is_ascii_digit());
        parts.filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let known = &builtin().unwrap().symptoms;
    let mut faults = Vec::new();
    for language in Language::all().filter(|language| *language != Language::ENGLISH) {
        let tag = language.tag();
        let mut wanted = BTreeSet::new();
        let mut look = |key: String, name: &str, english: &str| {
            let said = match name {
                "" => catalogue::find(tag, &key, &Default::default()),
                name => catalogue::beside(tag, &key, name),
            };
            match said {
                None => faults.push(format!("{tag}: {key} .{name} is missing")),
                Some(said) if figures(&said) != figures(english) => {
                    faults.push(format!("{tag}: {key} .{name}: {said}"))
                }
                Some(_) => {}
            }
            wanted.insert(key);
        };
        for symptom in &known.symptoms {
            let key = || format!("symptom-{}", symptom.code);
            look(key(), "", &symptom.name);
            for question in &symptom.questions {
                look(key(), &question.code, &question.ask);
                for (reply, number) in question.replies.iter().zip(1..) {
                    look(key(), &format!("{}-{number}", question.code), &reply.say);
                }
            }
        }
        for cause in &known.causes {
            let key = || format!("cause-{}", cause.code);
            look(key(), "", &cause.name);
            look(key(), "remedy", &cause.remedy);
            if !cause.also.is_empty() {
                look(key(), "also", &cause.also);
            }
        }
        let file = catalogue::files().find(|(other, name, _)| other == tag && name == "symptoms.ftl");
        let keys = super::messages::keys(&file.unwrap().2);
        let strange = keys.into_iter().filter(|key| !wanted.contains(key));
        faults.extend(strange.map(|key| format!("{tag}: English has no {key}")));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn no_english_is_left_where_a_fixture_is_measured_or_its_cause_is_found() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let closets = "SELECT '/fixtures/' || CAST(id AS TEXT) AS text FROM fixtures WHERE kind = 'water_closet' ORDER BY id";
        let closet = seen(fleet, &spanish, closets).remove(0);
        let send = |page: &str, fields: &[(&str, &str)]| {
            let from = format!("{closet}/{page}");
            let answer = english.submit(&from, &from, fields);
            assert_eq!(answer.status, 303, "{from}: {}", answer.body);
        };
        send(
            "flush",
            &[
                ("tank", "1.6"),
                ("refill-1", "240"),
                ("refill-2", "45"),
                ("refill-3", "20"),
                ("left-1", "yes"),
                ("again-2", "yes"),
                ("runs_on", "9"),
                ("level", "high"),
            ],
        );
        send(
            "clearance",
            &[
                ("left", "14 7/8"),
                ("right", "18"),
                ("front", "20"),
                ("seat_height", "16"),
                ("decision", "must_fix"),
            ],
        );
        send(
            "clearance",
            &[
                ("left", "14"),
                ("front", "30"),
                ("decision", "as_found"),
                ("accepted", "xyz"),
            ],
        );
        send(
            "leaks",
            &[("point", "supply"), ("state", "drip"), ("per_minute", "12")],
        );
        send("leaks", &[("point", "base"), ("state", "damp")]);
        let mut paths: Vec<String> = [
            "leaks",
            "leaks?point=supply",
            "clearance",
            "clearance?left=3",
            "flush",
        ]
        .iter()
        .map(|page| format!("{closet}/{page}"))
        .collect();
        let drawn =
            "SELECT '/fixtures/' || CAST(MIN(id) AS TEXT) || '/leaks' AS text FROM fixtures GROUP BY kind";
        paths.extend(seen(fleet, &spanish, drawn));
        let kinds =
            "SELECT '/fixtures/' || CAST(MIN(id) AS TEXT) || '/diagnose' AS text FROM fixtures GROUP BY kind";
        for begin in seen(fleet, &spanish, kinds) {
            let fixture = begin.strip_suffix("/diagnose").unwrap().to_owned();
            paths.push(begin);
            for symptom in &builtin().unwrap().symptoms.symptoms {
                for answers in ["", "0", "1", "2", "0.0", "1.0", "1.1.0", "0.1.0"] {
                    let path = format!("{fixture}/diagnose?symptom={}&answers={answers}", symptom.code);
                    if spanish.get(&path).status == 200 {
                        paths.push(path);
                    }
                }
            }
        }
        let opened =
            "SELECT '/deficiencies/' || CAST(id AS TEXT) AS text FROM deficiencies ORDER BY id DESC LIMIT 6";
        paths.extend(seen(fleet, &spanish, opened));
        let names = names(fleet);
        let faults: BTreeSet<String> = paths
            .iter()
            .flat_map(|path| left(&spanish, &english, path, &names))
            .collect();
        assert!(faults.is_empty(), "\n{}", Vec::from_iter(faults).join("\n"));
    });
}
