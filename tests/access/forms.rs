//! Forms: each carries its session's token and comes from this site, or nothing happens. Reading changes nothing.

use anglestop::web::routes::{Access, Route, TABLE};

use super::{empty_form, planted};
use crate::support::server::Server;
use crate::support::two_owners::{Held, THEN, TwoOwners};

/// Somebody whom the table lets in, with their session.
fn admitted<'a>(both: &'a TwoOwners, route: &Route) -> &'a Held {
    use anglestop::domain::register::person::Role;
    let persona = match route.access {
        Access::Roles(roles) if !roles.contains(&Role::Manager) => "owner",
        _ => "manager",
    };
    both.held(persona).unwrap()
}

fn forms() -> impl Iterator<Item = &'static Route> {
    TABLE.iter().filter(|route| route.method == "POST")
}

#[test]
fn a_form_without_the_sessions_token_is_refused() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    let other = both.held("owner").unwrap();
    for route in forms() {
        let held = admitted(&both, route);
        for token in ["", "guessed", &other.csrf] {
            if token == held.csrf {
                continue;
            }
            // A connection whose body nobody reads is closed after the refusal, so each try has its own.
            let browser = server.holding(&held.token);
            let (media_type, body) = empty_form(route.path, token);
            let answer = browser.send_with(&both.fill(route.path), &[], media_type, &body);
            assert_eq!(answer.status, 403, "{} with the token “{token}”", route.path);
        }
    }
}

#[test]
fn a_form_from_another_site_is_refused_even_with_the_token() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    for route in forms() {
        let held = admitted(&both, route);
        let (media_type, body) = empty_form(route.path, &held.csrf);
        for header in [
            ("origin", "https://elsewhere.example"),
            ("origin", "null"),
            ("sec-fetch-site", "cross-site"),
            ("sec-fetch-site", "same-site"),
        ] {
            for browser in [server.holding(&held.token), server.visitor()] {
                let answer = browser.send_with(&both.fill(route.path), &[header], media_type, &body);
                assert_eq!(answer.status, 403, "{} with {header:?}", route.path);
            }
        }
    }
}

#[test]
fn a_form_sent_to_another_method_than_its_own_does_nothing() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    for route in forms() {
        if TABLE
            .iter()
            .any(|other| other.path == route.path && other.method == "GET")
        {
            continue;
        }
        let browser = server.holding(&admitted(&both, route).token);
        let status = browser.get(&both.fill(route.path)).status;
        assert!(matches!(status, 404 | 405), "GET {} answers {status}", route.path);
    }
}
