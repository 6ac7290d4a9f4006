//! Every page, as each role that may open it, light and dark, on a phone and on a desk: no violation that axe-core finds (WCAG 2.2 A
//! and AA, and its best practice), no sideways scroll, nothing that the content policy had to stop.

use std::collections::BTreeMap;

use anglestop::domain::code::Coded;
use anglestop::domain::register::person::Role;
use anglestop::web::routes::{Access, TABLE};
use diesel::prelude::*;
use diesel::sql_types::Text;

use crate::support::chrome::{Chrome, Scheme};
use crate::support::demo::{self, AS_OF_INSTANT};
use crate::support::server::{Browser, Server};
use crate::support::{Fleet, sqlite};

/// What stands for `{name}` in an address: a query for one value that everybody of the demo's first people may see.
const VALUES: &[(&str, &str)] = &[
    (
        "received",
        "SELECT REPLACE(SUBSTR(r.received_at, 1, 19), ' ', 'T') AS value FROM results r JOIN deficiencies d ON d.unit_id = r.unit_id WHERE d.building_id = 1 AND d.status <> 'closed' ORDER BY d.id, r.id LIMIT 1",
    ),
    ("building", "SELECT code AS value FROM buildings WHERE id = 1"),
    (
        "unit",
        "SELECT CAST(unit_id AS TEXT) AS value FROM deficiencies WHERE building_id = 1 AND status <> 'closed' ORDER BY id LIMIT 1",
    ),
    (
        "fixture",
        "SELECT CAST(d.fixture_id AS TEXT) AS value FROM deficiencies d JOIN fixtures f ON f.id = d.fixture_id WHERE d.building_id = 1 AND f.kind = 'water_closet' AND f.status = 'in_service' ORDER BY d.id LIMIT 1",
    ),
    (
        "part",
        "SELECT CAST(p.id AS TEXT) AS value FROM parts p JOIN fixtures f ON f.id = p.fixture_id JOIN tags t ON t.id = f.tag_id JOIN units u ON u.id = t.unit_id WHERE u.building_id = 1 AND p.status = 'in_service' LIMIT 1",
    ),
    (
        "tag",
        "SELECT CAST(t.id AS TEXT) AS value FROM tags t JOIN units u ON u.id = t.unit_id WHERE u.building_id = 1 LIMIT 1",
    ),
    (
        "room",
        "SELECT CAST(r.id AS TEXT) AS value FROM rooms r JOIN units u ON u.id = r.unit_id WHERE u.building_id = 1 LIMIT 1",
    ),
    (
        "household",
        "SELECT CAST(h.id AS TEXT) AS value FROM households h JOIN units u ON u.id = h.unit_id WHERE u.building_id = 1 LIMIT 1",
    ),
    ("portfolio", "SELECT code AS value FROM portfolios WHERE id = 1"),
    (
        "deficiency",
        "SELECT CAST(id AS TEXT) AS value FROM deficiencies WHERE building_id = 1 AND status <> 'closed' ORDER BY id LIMIT 1",
    ),
    (
        "visit",
        "SELECT CAST(id AS TEXT) AS value FROM visits WHERE building_id = 1 ORDER BY id DESC LIMIT 1",
    ),
    (
        "turnover",
        "SELECT CAST(id AS TEXT) AS value FROM turnovers WHERE building_id = 1 ORDER BY stage = 'moved_in' DESC, id LIMIT 1",
    ),
    (
        "document",
        "SELECT CAST(id AS TEXT) AS value FROM documents WHERE building_id = 1 AND kind = 'condition' LIMIT 1",
    ),
    (
        "closing",
        "SELECT CAST(id AS TEXT) AS value FROM closings WHERE building_id = 1 ORDER BY id LIMIT 1",
    ),
    (
        "schedule",
        "SELECT code AS value FROM schedules WHERE active ORDER BY id LIMIT 1",
    ),
    ("language", "SELECT 'en' AS value"),
    (
        "code",
        "SELECT l.code AS value FROM labels l JOIN tags t ON t.id = l.tag_id JOIN units u ON u.id = t.unit_id WHERE u.building_id = 1 ORDER BY t.id LIMIT 1",
    ),
    (
        "check",
        "SELECT code AS value FROM checks WHERE code = 'own_seat'",
    ),
    (
        "person",
        "SELECT CAST(id AS TEXT) AS value FROM people WHERE role = 'technician' ORDER BY id LIMIT 1",
    ),
    (
        "message",
        "SELECT CAST(id AS TEXT) AS value FROM outbox ORDER BY id LIMIT 1",
    ),
];

#[derive(QueryableByName)]
struct Value {
    #[diesel(sql_type = Text)]
    value: String,
}

fn values(fleet: &Fleet) -> BTreeMap<&'static str, String> {
    let found = fleet.db.read(|conn| {
        let mut found = BTreeMap::new();
        for (name, query) in VALUES {
            let row: Option<Value> = diesel::sql_query(*query).get_result(conn).optional()?;
            if let Some(row) = row {
                found.insert(*name, row.value);
            }
        }
        Ok(found)
    });
    found.unwrap()
}

/// What an address needs after its `?` to show a page.
fn asked_of(path: &str) -> &'static str {
    if path.ends_with("/recorded") {
        "?at={received}"
    } else if path == "/labels/sheet" {
        "?building={building}"
    } else {
        ""
    }
}

/// The address with values in place of names; what is missing when the fleet has no such thing.
fn filled(pattern: &str, values: &BTreeMap<&'static str, String>) -> Result<String, String> {
    let mut address = String::new();
    let mut rest = pattern;
    while let Some((before, after)) = rest.split_once('{') {
        let (name, after) = after.split_once('}').unwrap();
        let value = values.get(name).ok_or_else(|| name.to_owned())?;
        address.push_str(before);
        address.push_str(value);
        rest = after;
    }
    Ok(address + rest)
}

/// Addresses that need no look here: a file that is no page, what programs are answered, a one-time link or one session's upload that a
/// test of its own opens.
fn is_no_page(path: &str) -> bool {
    let is_file = ["/assets/", "/phone/", "/photos/"]
        .iter()
        .any(|start| path.starts_with(start));
    is_file || path.contains("{token}") || path.contains("{upload}")
}

/// The pages that this role may open.
fn pages(role: Role, browser: &Browser, values: &BTreeMap<&'static str, String>) -> Vec<String> {
    let mut pages = Vec::new();
    for route in TABLE
        .iter()
        .filter(|route| route.method == "GET" && !is_no_page(route.path))
    {
        let allowed = match route.access {
            Access::Anybody => true,
            Access::Roles(roles) => roles.contains(&role),
        };
        if !allowed {
            continue;
        }
        let address =
            filled(&format!("{}{}", route.path, asked_of(route.path)), values).unwrap_or_else(|name| {
                panic!(
                    "{}: the test knows no value of {{{name}}}; add a line to VALUES",
                    route.path
                )
            });
        let answer = browser.get(&address);
        assert!(
            answer.status < 400,
            "{} {address} answers {}: {}",
            role.code(),
            answer.status,
            answer.body
        );
        let media_type = answer
            .headers
            .get("content-type")
            .and_then(|value| value.to_str().ok())
            .unwrap_or_default();
        if answer.status == 200 && media_type.starts_with("text/html") {
            pages.push(address);
        }
    }
    pages
}

fn look(role: Role) {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    demo::enliven(&fleet, &server);
    let pages = pages(role, &server.signed_in(role.code()), &values(&fleet));
    let chrome = Chrome::start();
    chrome.open(&format!("{}/sign-in", server.address));
    chrome.click(&format!("form[action='/demo/sign-in/{}'] button", role.code()));
    let mut faults = Vec::new();
    for page in &pages {
        for (width_px, scheme) in [
            (320, Scheme::Light),
            (320, Scheme::Dark),
            (1280, Scheme::Light),
            (1280, Scheme::Dark),
        ] {
            chrome.show_as(width_px, scheme);
            chrome.open(&format!("{}{page}", server.address));
            let found = chrome.faults().into_iter().chain(chrome.console_errors());
            faults.extend(found.map(|fault| format!("{page} {width_px} px {scheme:?}: {fault}")));
        }
    }
    println!(
        "{}: looked at {} pages, four times each",
        role.code(),
        pages.len()
    );
    assert!(pages.len() > 4, "only {} pages were looked at", pages.len());
    assert!(
        faults.is_empty(),
        "{} faults:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn every_page_of_the_manager_is_accessible_light_and_dark_on_a_phone_and_on_a_desk() {
    look(Role::Manager);
}

#[test]
fn every_page_of_the_technician_is_accessible_light_and_dark_on_a_phone_and_on_a_desk() {
    look(Role::Technician);
}

#[test]
fn every_page_of_the_owner_is_accessible_light_and_dark_on_a_phone_and_on_a_desk() {
    look(Role::Owner);
}
