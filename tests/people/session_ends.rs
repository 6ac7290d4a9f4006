//! What ends a session (OWASP ASVS 5.0, 7; OWASP Session Management Cheat Sheet).

use anglestop::actions::people::change_role::{Assignment, assign};
use anglestop::actions::people::standing;
use anglestop::domain::register::person::{Actor, Role};

use super::{ANOTHER, NOON, PASSWORD, add, noon, two_buildings};
use crate::support::on_both;
use crate::support::server::{Browser, Server};

fn signed_in(server: &Server, email: &str, password: &str) -> Browser {
    let browser = server.visitor();
    let answer = browser.send("/sign-in", &[("email", email), ("password", password)]);
    assert_eq!(answer.status, 303, "{}", answer.body);
    browser
}

fn is_in(browser: &Browser) -> bool {
    browser.get("/account").status == 200
}

fn token(browser: &Browser) -> String {
    browser.cookie("session").unwrap()
}

#[test]
fn signing_in_opens_a_new_session_and_ends_the_browsers_earlier_one() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let browser = signed_in(&server, "ola@keel.example", PASSWORD);
        let first = token(&browser);
        let fields = [("email", "ola@keel.example"), ("password", PASSWORD)];
        assert_eq!(browser.submit("/sign-in", "/sign-in", &fields).status, 303);
        assert_ne!(token(&browser), first);
        assert!(!is_in(&server.holding(&first)));
        assert!(is_in(&browser));
    });
}

#[test]
fn signing_out_ends_the_session_on_the_server() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let browser = signed_in(&server, "ola@keel.example", PASSWORD);
        let kept = token(&browser);
        assert_eq!(browser.submit("/account", "/sign-out", &[]).location, "/sign-in");
        assert!(!is_in(&server.holding(&kept)));
    });
}

#[test]
fn a_session_ends_after_idle_hours_and_at_its_last_day_by_role() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        add(&fleet.db, "ola", Role::Manager, &[]);
        add(&fleet.db, "tess", Role::Technician, &["ALDER"]);
        for (who, used_until, not_after, every_h, last_day) in [
            (
                "ola",
                "2026-11-26T00:00:00",
                "2026-11-26T00:00:01",
                11,
                "2026-12-02T12:00:00",
            ),
            (
                "tess",
                "2026-12-09T12:00:00",
                "2026-12-09T12:00:01",
                13 * 24,
                "2027-01-24T12:00:00",
            ),
        ] {
            let email = format!("{who}@keel.example");
            let server = Server::start(&fleet.db, NOON);
            let idle = signed_in(&server, &email, PASSWORD);
            server.clock.set(used_until.parse().unwrap());
            assert!(is_in(&idle), "{who}");
            server.clock.set(NOON.parse().unwrap());
            let idle = signed_in(&server, &email, PASSWORD);
            server.clock.set(not_after.parse().unwrap());
            assert!(!is_in(&idle), "{who} was idle too long");
            server.clock.set(NOON.parse().unwrap());
            let busy = signed_in(&server, &email, PASSWORD);
            let (mut now, last): (chrono::NaiveDateTime, chrono::NaiveDateTime) =
                (NOON.parse().unwrap(), last_day.parse().unwrap());
            while now < last {
                server.clock.set(now);
                assert!(is_in(&busy), "{who} at {now}");
                now += chrono::TimeDelta::hours(every_h);
            }
            server.clock.set(last);
            assert!(!is_in(&busy), "{who}'s last day is over");
        }
    });
}

#[test]
fn another_password_ends_ones_other_sessions_and_keeps_this() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let (this, other) = (
            signed_in(&server, "ola@keel.example", PASSWORD),
            signed_in(&server, "ola@keel.example", PASSWORD),
        );
        let change = |current: &str, password: &str| {
            let fields = [("current", current), ("password", password)];
            this.submit("/account", "/account/password", &fields)
        };
        let wrong = change(ANOTHER, "tin roof rain gutters");
        assert_eq!(wrong.status, 422);
        assert!(wrong.body.contains("not your current password"));
        assert_eq!(change(PASSWORD, "short").status, 422);
        assert!(is_in(&other));
        assert_eq!(change(PASSWORD, ANOTHER).status, 303);
        assert!(is_in(&this) && !is_in(&other));
        signed_in(&server, "ola@keel.example", ANOTHER);
    });
}

#[test]
fn guessing_the_current_password_in_a_session_is_slow_too() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let browser = signed_in(&server, "ola@keel.example", PASSWORD);
        let statuses: Vec<u16> = (0..6)
            .map(|_| {
                let fields = [("current", ANOTHER), ("password", "tin roof rain gutters")];
                browser.submit("/account", "/account/password", &fields).status
            })
            .collect();
        assert_eq!(statuses, [422, 422, 422, 422, 422, 429]);
    });
}

#[test]
fn ones_own_sessions_are_listed_and_ended_one_or_all_others() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        add(&fleet.db, "rosa", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let browsers: Vec<Browser> = (0..4)
            .map(|_| signed_in(&server, "ola@keel.example", PASSWORD))
            .collect();
        let rosa = signed_in(&server, "rosa@keel.example", PASSWORD);
        let page = browsers[3].get("/account");
        let ends: Vec<&str> = page
            .body
            .split("action=\"")
            .filter_map(|part| part.split('"').next())
            .filter(|action| action.ends_with("/end"))
            .collect();
        assert_eq!(ends.len(), 3, "the others, not this one and not Rosa's");
        assert_eq!(
            rosa.submit("/account", ends[0], &[]).status,
            404,
            "another's session"
        );
        assert!(browsers[..3].iter().all(is_in));
        assert_eq!(browsers[3].submit("/account", ends[0], &[]).status, 303);
        assert_eq!(browsers[..3].iter().filter(|browser| is_in(browser)).count(), 2);
        assert_eq!(
            browsers[3]
                .submit("/account", "/account/sessions/end-others", &[])
                .status,
            303
        );
        assert!(!browsers[..3].iter().any(is_in));
        assert!(is_in(&browsers[3]) && is_in(&rosa));
    });
}

#[test]
fn disabling_and_another_role_end_a_persons_sessions() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let tess = add(&fleet.db, "tess", Role::Technician, &["ALDER"]);
        let server = Server::start(&fleet.db, NOON);
        let browser = signed_in(&server, "tess@keel.example", PASSWORD);
        let same_role = Assignment {
            role: Role::Technician,
            places: vec!["BIRCH".to_owned()],
        };
        assign(&fleet.db, &Actor::operator(), noon(), tess, &same_role).unwrap();
        assert!(is_in(&browser), "other places end nothing");
        let manager = Assignment {
            role: Role::Manager,
            places: Vec::new(),
        };
        assign(&fleet.db, &Actor::operator(), noon(), tess, &manager).unwrap();
        assert!(!is_in(&browser));
        add(&fleet.db, "ola", Role::Manager, &[]);
        let browser = signed_in(&server, "tess@keel.example", PASSWORD);
        standing::disable(&fleet.db, &Actor::operator(), noon(), tess).unwrap();
        assert!(!is_in(&browser));
        standing::enable(&fleet.db, &Actor::operator(), noon(), tess).unwrap();
        assert!(!is_in(&browser), "an ended session does not come back");
        signed_in(&server, "tess@keel.example", PASSWORD);
    });
}

#[test]
fn the_database_holds_no_token_of_a_session() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let browser = signed_in(&server, "ola@keel.example", PASSWORD);
        let token = token(&browser);
        assert_eq!(token.len(), 43, "256 bits in base64url");
        assert!(!super::dump(fleet).contains(&token));
    });
}
