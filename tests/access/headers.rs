//! Headers of every page, and the flags of the cookies (OWASP ASVS 5.0, 3.3 and 3.4; OWASP HTTP Headers Cheat Sheet).

use anglestop::web::routes::{Access, TABLE};

use super::planted;
use crate::support::server::{Answer, Server};
use crate::support::two_owners::{Held, PERSONAS, THEN, TwoOwners};

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; \
     manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

fn value<'a>(answer: &'a Answer, name: &str) -> &'a str {
    answer
        .headers
        .get(name)
        .map_or("", |value| value.to_str().unwrap())
}

/// Every page of the table, as everybody; the answer may be a page, a file, a refusal or a redirect.
fn every_page(both: &TwoOwners, look: impl Fn(&str, &str, Option<&Held>, Access)) {
    for route in TABLE.iter().filter(|route| route.method == "GET") {
        for persona in PERSONAS {
            look(&both.fill(route.path), persona, both.held(persona), route.access);
        }
    }
}

#[test]
fn every_page_says_what_a_browser_may_do_with_it() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    every_page(&both, |address, persona, held, access| {
        let browser = held.map_or_else(|| server.visitor(), |held| server.holding(&held.token));
        let answer = browser.get(address);
        let place = format!("{address} as {persona}");
        let policy = if value(&answer, "content-type") == "image/jpeg" {
            "default-src 'none'; sandbox"
        } else {
            POLICY
        };
        assert_eq!(value(&answer, "content-security-policy"), policy, "{place}");
        assert_eq!(value(&answer, "x-content-type-options"), "nosniff", "{place}");
        assert_eq!(value(&answer, "referrer-policy"), "same-origin", "{place}");
        assert_eq!(
            value(&answer, "permissions-policy"),
            "camera=(self), geolocation=(), microphone=()",
            "{place}"
        );
        assert_eq!(value(&answer, "strict-transport-security"), "", "{place}");
        if access != Access::Anybody {
            assert_eq!(value(&answer, "cache-control"), "no-store", "{place}");
        }
    });
}

#[test]
fn an_office_on_https_says_so_and_keeps_its_cookies_to_it() {
    let (fleet, both) = planted();
    let server = Server::start_at(&fleet.db, THEN, "https://checks.keel.example");
    every_page(&both, |address, persona, held, _| {
        let cookie = held.map(|held| format!("__Host-session={}", held.token));
        let headers: Vec<(&str, &str)> = cookie.iter().map(|cookie| ("cookie", cookie.as_str())).collect();
        let answer = server.visitor().get_with(address, &headers);
        assert_eq!(
            value(&answer, "strict-transport-security"),
            "max-age=31536000",
            "{address} as {persona}"
        );
        if persona == "manager" && address == "/people" {
            assert_eq!(answer.status, 200, "the cookie of an office on https is not read");
        }
    });
}

/// The cookies of an answer, each with its flags.
fn cookies(answer: &Answer) -> Vec<String> {
    let all = answer.headers.get_all("set-cookie").iter();
    all.map(|cookie| cookie.to_str().unwrap().to_owned()).collect()
}

#[test]
fn the_sessions_cookie_is_out_of_reach_of_scripts_and_other_sites() {
    let (fleet, _both) = planted();
    let server = Server::start(&fleet.db, THEN);
    let answer = server.visitor().send("/demo/sign-in/owner", &[]);
    let cookies = cookies(&answer);
    let session = cookies
        .iter()
        .find(|cookie| cookie.starts_with("session="))
        .unwrap();
    for flag in ["HttpOnly", "SameSite=Lax", "Path=/"] {
        assert!(session.contains(flag), "{session}");
    }
    assert!(!session.contains("Domain"), "{session}");
}

#[test]
fn on_https_every_cookie_is_secure_and_the_sessions_is_bound_to_the_host() {
    let (fleet, _both) = planted();
    crate::people::give_password(&fleet.db, "ola.brandt@keel.example", crate::people::PASSWORD);
    let server = Server::start_at(&fleet.db, THEN, "https://checks.keel.example");
    let visitor = server.visitor();
    let fields = [
        ("email", "ola.brandt@keel.example"),
        ("password", crate::people::PASSWORD),
    ];
    let answer = visitor.send("/sign-in", &fields);
    assert_eq!(answer.status, 303, "{}", answer.body);
    let all = cookies(&answer);
    let session = all
        .iter()
        .find(|cookie| cookie.starts_with("__Host-session="))
        .unwrap_or_else(|| panic!("{all:?}"));
    for flag in ["HttpOnly", "SameSite=Lax", "Path=/", "Secure"] {
        assert!(session.contains(flag), "{session}");
    }
    assert!(!session.contains("Domain"), "{session}");
    let token = session.split(['=', ';']).nth(1).unwrap();
    let held = format!("__Host-session={token}");
    let page = server.visitor().get_with("/account", &[("cookie", &held)]);
    assert_eq!(page.status, 200);
    let form = format!("csrf={}&time_zone=UTC&digest_hour=7", page.csrf());
    let kept = server.visitor().send_with(
        "/account/hours",
        &[("cookie", &held)],
        "application/x-www-form-urlencoded",
        &form,
    );
    assert_eq!(kept.status, 303, "{}", kept.body);
    for cookie in cookies(&page).iter().chain(&cookies(&kept)) {
        assert!(cookie.contains("Secure"), "{cookie}");
    }
}

#[test]
fn a_page_that_fails_keeps_the_frame_of_whoever_asked() {
    let (fleet, both) = planted();
    let server = Server::start(&fleet.db, THEN);
    for (persona, address, status) in [
        ("owner", "/condition/NOWHERE", 404),
        ("owner", "/buildings", 403),
        ("manager", "/turnovers/999999", 404),
        ("manager", "/fixtures/none", 404),
        ("technician_assigned", "/people", 403),
    ] {
        let held = both.held(persona).unwrap();
        let answer = server.holding(&held.token).get(address);
        let place = format!("{address} as {persona}");
        assert_eq!(answer.status, status, "{place}");
        assert!(
            answer.body.contains("aria-label=\"Places\"") && answer.body.contains("/sign-out"),
            "{place} lost the menu: {}",
            answer.body
        );
    }
    let stranger = server.visitor().get("/nowhere");
    assert_eq!(stranger.status, 404);
    assert!(
        !stranger.body.contains("aria-label=\"Places\""),
        "{}",
        stranger.body
    );
}
