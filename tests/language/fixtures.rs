//! Pages of deficiencies, of water, of fixtures and their parts in Spanish: no English is left but what people wrote.

use std::collections::BTreeSet;

use anglestop::exchange::catalogue::builtin;

use super::pages::{AT, fit, none_left, reads, select, texts, words};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, demo, on_both, sqlite};

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
        // Words that both languages write alike.
        "decide",
        "conductor",
        "breaker",
        "local",
        "inclusive",
        "motor",
        "usual",
        "grave",
    ];
    names.extend(published.map(str::to_owned));
    names.extend(words(&super::places::published()));
    // By whom a clearance was accepted as found stands within what was measured.
    let measured = texts(fleet, "SELECT detail AS text FROM results WHERE detail <> ''");
    let accepted = measured.iter().filter_map(|detail| {
        let (_, behind) = detail.split_once("\"accepted\":\"")?;
        Some(behind.split('"').next()?.to_owned())
    });
    names.extend(words(&accepted.collect::<Vec<_>>()));
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
        none_left((&spanish, &english), &paths, &names);
    });
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
            let form = english.get(&from).page();
            let id = form.select(&select("input[name='client_id']")).next().unwrap();
            let mut fields = fields.to_vec();
            fields.push(("client_id", id.value().attr("value").unwrap()));
            let answer = english.submit(&from, &from, &fields);
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
                for answers in ["", "0", "1", "0.1", "1.0"] {
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
        none_left((&spanish, &english), &paths, &names);
    });
}

#[test]
fn no_english_is_left_on_the_pages_of_fixtures_and_parts() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        let server = Server::start(&fleet.db, AT);
        let english = server.signed_in("manager");
        reads(fleet, "es");
        let spanish = server.signed_in("technician");
        let kinds =
            "SELECT '/fixtures/' || CAST(MIN(id) AS TEXT) AS text FROM fixtures GROUP BY kind, status";
        let closets = "SELECT '/fixtures/' || CAST(id AS TEXT) AS text FROM fixtures WHERE kind = 'water_closet' ORDER BY id";
        let closet = seen(fleet, &spanish, closets).remove(0);
        let replaced = english.submit(
            &format!("{closet}/replace"),
            &format!("{closet}/replace"),
            &[("kind", "water_closet"), ("parts", "standard")],
        );
        assert_eq!(replaced.status, 303, "{}", replaced.body);
        let mut paths = seen(fleet, &spanish, kinds);
        assert!(paths.contains(&closet) || !paths.is_empty());
        paths.push(closet);
        for fixture in paths.clone() {
            for page in ["edit", "parts/new"] {
                let path = format!("{fixture}/{page}");
                if spanish.get(&path).status == 200 {
                    paths.push(path);
                }
            }
        }
        let part = "SELECT '/parts/' || CAST(MIN(id) AS TEXT) AS text FROM parts WHERE status = 'in_service' GROUP BY kind";
        for part in texts(fleet, part) {
            for page in ["change", "replace", "retire"] {
                let path = format!("{part}/{page}");
                if spanish.get(&path).status == 200 {
                    paths.push(path);
                }
            }
        }
        let names = names(fleet);
        none_left((&spanish, &english), &paths, &names);
    });
}

/// Longer words fit on the smallest phone.
#[test]
fn the_pages_of_deficiencies_and_fixtures_fit_a_small_phone_in_spanish() {
    let fleet = sqlite();
    demo::make(&fleet, 10);
    reads(&fleet, "es");
    let server = Server::start(&fleet.db, AT);
    let spanish = server.signed_in("technician");
    let first = |query: &str| seen(&fleet, &spanish, query).remove(0);
    let deficiency = first(
        "SELECT '/deficiencies/' || CAST(id AS TEXT) AS text FROM deficiencies WHERE status <> 'closed' ORDER BY id",
    );
    let closet = first(
        "SELECT '/fixtures/' || CAST(id AS TEXT) AS text FROM fixtures WHERE kind = 'water_closet' ORDER BY id",
    );
    let mut paths = ["/deficiencies", "/deficiencies?status=all", "/deficiencies/times"]
        .map(str::to_owned)
        .to_vec();
    paths.extend(
        ["", "/water?method=tank", "/choice?repair=84.50&replace=310"]
            .map(|page| format!("{deficiency}{page}")),
    );
    let pages = [
        "",
        "/clearance",
        "/flush",
        "/leaks?point=supply",
        "/edit",
        "/parts/new",
        "/diagnose",
    ];
    paths.extend(pages.map(|page| format!("{closet}{page}")));
    paths.push(format!("{closet}/diagnose?symptom=wc_wet&answers=0.1"));
    fit(&server, &paths);
}
