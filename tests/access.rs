//! Who may ask for what: `access.csv` holds a line for each method of each address of the route table, and each line is asked by
//! everybody on a real server. Every form must carry its session's token and come from this site. Nobody of one owner's side
//! reads a word of the other's.

mod crawl;
mod forms;
mod headers;

use std::collections::{BTreeMap, BTreeSet};

use anglestop::web::routes::{Route, TABLE};

use crate::support::server::{Answer, Server};
use crate::support::two_owners::{PERSONAS, THEN, TwoOwners};
use crate::support::{Fleet, copy_of, postgres, sqlite};

const MATRIX: &str = include_str!("access.csv");

/// Addresses whose form carries files.
const WITH_FILES: [&str; 1] = ["/import"];

/// A body with the token `csrf`, the id that a page makes for what it records, and nothing else, with its media type, as the form at
/// `path` sends it.
fn empty_form(path: &str, csrf: &str) -> (&'static str, String) {
    if WITH_FILES.contains(&path) {
        let body =
            format!("--edge\r\ncontent-disposition: form-data; name=\"csrf\"\r\n\r\n{csrf}\r\n--edge--\r\n");
        ("multipart/form-data; boundary=edge", body)
    } else {
        (
            "application/x-www-form-urlencoded",
            format!("csrf={csrf}&client_id=01938000-0000-7000-8000-000000000001"),
        )
    }
}

/// Asks for an address of the table as one of the personas; a form is sent with its token and otherwise empty.
fn ask(server: &Server, both: &TwoOwners, persona: &str, route: &Route) -> Answer {
    let held = both.held(persona);
    let browser = held.map_or_else(|| server.visitor(), |held| server.holding(&held.token));
    let address = both.fill(route.path);
    if route.method == "GET" {
        return browser.get(&address);
    }
    let csrf = held.map_or("", |held| &held.csrf);
    let (media_type, body) = empty_form(route.path, csrf);
    if route.path.starts_with("/phone/") {
        // What a phone sends carries its token beside the body; a piece of a photo begins somewhere.
        return browser.send_with(
            &format!("{address}?from=0"),
            &[("csrf-token", csrf)],
            media_type,
            &body,
        );
    }
    browser.send_with(&address, &[], media_type, &body)
}

type Matrix = BTreeMap<(String, String), Vec<u16>>;

fn matrix() -> Matrix {
    let mut lines = MATRIX
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!(header[..2], ["method", "path"]);
    assert_eq!(header[2..], PERSONAS);
    let mut matrix = Matrix::new();
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), 2 + PERSONAS.len(), "{line}");
        let statuses = cells[2..].iter().map(|cell| cell.parse().expect(line)).collect();
        let key = (cells[0].to_owned(), cells[1].to_owned());
        let twice = matrix.insert(key, statuses).is_some();
        assert!(
            !twice,
            "tests/access.csv has two lines for {} {}",
            cells[0], cells[1]
        );
    }
    matrix
}

fn planted() -> (Fleet, TwoOwners) {
    let fleet = sqlite();
    let both = TwoOwners::plant(&fleet.db);
    (fleet, both)
}

/// What everybody is answered, each from the fleet as it was planted when a form of somebody before was taken.
fn statuses(fleet: &Fleet, both: &TwoOwners, route: &Route) -> Vec<u16> {
    let mut copy = copy_of(fleet);
    let mut server = Server::start(&copy.db, THEN);
    PERSONAS
        .iter()
        .map(|persona| {
            let status = ask(&server, both, persona, route).status;
            if route.method == "POST" && status < 400 {
                copy = copy_of(fleet);
                server = Server::start(&copy.db, THEN);
            }
            status
        })
        .collect()
}

#[test]
fn the_table_names_every_address_once() {
    let mut seen = BTreeSet::new();
    for route in TABLE {
        assert!(
            seen.insert((route.method, route.path)),
            "{} {} stands twice in web/routes.rs",
            route.method,
            route.path
        );
    }
}

#[test]
fn everybody_is_answered_as_the_matrix_says() {
    let (fleet, both) = planted();
    let mut matrix = matrix();
    let mut faults = Vec::new();
    let server = Server::start(&fleet.db, THEN);
    for route in TABLE {
        let seen = if route.method == "GET" {
            let ask_all = PERSONAS
                .iter()
                .map(|persona| ask(&server, &both, persona, route).status);
            ask_all.collect()
        } else {
            statuses(&fleet, &both, route)
        };
        let line = || {
            let cells: Vec<String> = seen.iter().map(u16::to_string).collect();
            format!("{},{},{}", route.method, route.path, cells.join(","))
        };
        match matrix.remove(&(route.method.to_owned(), route.path.to_owned())) {
            None => faults.push(format!(
                "no line for {} {}. What is answered today, to be judged before you add it:\n{}",
                route.method,
                route.path,
                line()
            )),
            Some(expected) if expected != seen => faults.push(format!(
                "{} {} should be {expected:?}, but answers\n{}",
                route.method,
                route.path,
                line()
            )),
            Some(_) => {}
        }
    }
    for (method, path) in matrix.keys() {
        faults.push(format!(
            "{method} {path} stands in the matrix, but not in web/routes.rs"
        ));
    }
    assert!(faults.is_empty(), "\ntests/access.csv:\n{}", faults.join("\n"));
}

/// What is refused changes nothing, so one fleet serves every line.
#[test]
fn postgresql_refuses_the_same() {
    let fleet = postgres();
    let both = TwoOwners::plant(&fleet.db);
    let server = Server::start(&fleet.db, THEN);
    for ((method, path), expected) in matrix() {
        let Some(route) = TABLE
            .iter()
            .find(|route| route.method == method && route.path == path)
        else {
            continue;
        };
        for (persona, status) in PERSONAS.iter().zip(expected) {
            if method == "GET" || matches!(status, 401 | 403 | 404) {
                let seen = ask(&server, &both, persona, route).status;
                assert_eq!(seen, status, "{method} {path} as {persona}");
            }
        }
    }
}
