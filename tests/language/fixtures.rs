//! Pages of deficiencies, of water, of fixtures and their parts in Spanish: no English is left but what people wrote.

use std::collections::BTreeSet;

use anglestop::domain::trade::symptom::Symptoms;
use anglestop::exchange::catalogue::builtin;
use anglestop::language::{Language, catalogue};

use super::pages::{AT, left, reads, texts, words};
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
