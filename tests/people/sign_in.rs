//! Getting in by address and password (OWASP ASVS 5.0, 6.2 and 6.3; OWASP Authentication Cheat Sheet).

use std::net::IpAddr;

use anglestop::actions::people::hashing::Hasher;
use anglestop::actions::people::sign_in::{Attempt, Opened, with_password};
use anglestop::actions::people::throttle::Origin;
use anglestop::actions::people::{invite, standing};
use anglestop::clock::Now;
use anglestop::domain::register::password::Password;
use anglestop::domain::register::person::{Actor, Role};
use anglestop::error::Error;
use anglestop::store::{Db, people};

use super::{ANOTHER, PASSWORD, add, after_noon, at, dump, invitation, noon, person};
use crate::support::on_both;
use crate::support::server::Server;

fn attempt(email: &str, password: &str, from: &str) -> Attempt {
    let address: Option<IpAddr> = from.parse().ok();
    Attempt {
        email: email.to_owned(),
        password: Password::given(password),
        origin: Origin(address),
        agent: "a test".to_owned(),
        replaces: None,
    }
}

fn try_at(db: &Db, now: Now, email: &str, password: &str) -> Result<Opened, Error> {
    with_password(db, &Hasher::new(2), now, &attempt(email, password, "192.0.2.7"))
}

fn waits(tried: Result<Opened, Error>) -> u64 {
    match tried {
        Err(Error::TooMany { retry_after_s, .. }) => retry_after_s,
        other => panic!("should have to wait: {other:?}"),
    }
}

#[test]
fn whoever_cannot_sign_in_hears_the_same_after_the_same_work() {
    on_both(|fleet| {
        let db = &fleet.db;
        add(db, "ola", Role::Manager, &[]);
        let rosa = add(db, "rosa", Role::Manager, &[]);
        standing::disable(db, &Actor::operator(), noon(), rosa).unwrap();
        let invited = invitation("ines", Role::Manager, &[]);
        invite::by_mail(db, &Actor::operator(), noon(), "http://here.example", &invited).unwrap();
        let hasher = Hasher::new(2);
        let mut heard = Vec::new();
        for (email, password) in [
            ("nobody@keel.example", PASSWORD),
            ("ola@keel.example", ANOTHER),
            ("rosa@keel.example", PASSWORD),
            ("ines@keel.example", PASSWORD),
        ] {
            let before = hasher.computed();
            let refusal = with_password(db, &hasher, noon(), &attempt(email, password, "192.0.2.7"));
            assert_eq!(hasher.computed(), before + 1, "{email}: one hash, like everybody");
            heard.push(refusal.unwrap_err().to_string());
        }
        heard.dedup();
        assert_eq!(heard.len(), 1, "{heard:?}");
        assert!(try_at(db, noon(), "ola@keel.example", PASSWORD).is_ok());
    });
}

#[test]
fn an_address_is_the_same_in_capitals_and_a_password_is_not() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        assert!(try_at(&fleet.db, noon(), " OLA@Keel.example", PASSWORD).is_ok());
        let capitals = PASSWORD.to_uppercase();
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", &capitals).is_err());
        let with_space = format!("{PASSWORD} ");
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", &with_space).is_err());
    });
}

#[test]
fn a_hash_of_less_cost_is_made_anew_at_sign_in() {
    // argon2id with 256 KiB of the password "password", from the reference implementation's tests (from memory).
    let weak = "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4";
    on_both(|fleet| {
        let ola = add(&fleet.db, "ola", Role::Manager, &[]);
        fleet
            .db
            .write(|tx| people::set_password_hash(tx, ola, weak))
            .unwrap();
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", "passwort").is_err());
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", "password").is_ok());
        let kept = fleet
            .db
            .read(|conn| people::password_hash(conn, ola))
            .unwrap()
            .unwrap();
        assert!(kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{kept}");
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", "password").is_ok());
    });
}

#[test]
fn after_five_failures_in_a_row_the_wait_doubles_known_or_not() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        for email in ["ola@keel.example", "nobody@keel.example"] {
            for _ in 0..5 {
                assert!(matches!(
                    try_at(&fleet.db, noon(), email, ANOTHER),
                    Err(Error::Fields(_))
                ));
            }
            assert_eq!(waits(try_at(&fleet.db, noon(), email, PASSWORD)), 1, "{email}");
            assert!(matches!(
                try_at(&fleet.db, after_noon(1), email, ANOTHER),
                Err(Error::Fields(_))
            ));
            assert_eq!(
                waits(try_at(&fleet.db, after_noon(1), email, PASSWORD)),
                2,
                "{email}"
            );
            assert!(matches!(
                try_at(&fleet.db, after_noon(3), email, ANOTHER),
                Err(Error::Fields(_))
            ));
            assert_eq!(
                waits(try_at(&fleet.db, after_noon(3), email, PASSWORD)),
                4,
                "{email}"
            );
        }
    });
}

#[test]
fn the_right_password_ends_the_row_of_failures() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        for _ in 0..4 {
            assert!(try_at(&fleet.db, noon(), "ola@keel.example", ANOTHER).is_err());
        }
        assert!(try_at(&fleet.db, noon(), "ola@keel.example", PASSWORD).is_ok());
        for _ in 0..5 {
            let tried = try_at(&fleet.db, noon(), "ola@keel.example", ANOTHER);
            assert!(matches!(tried, Err(Error::Fields(_))));
        }
    });
}

#[test]
fn a_day_later_the_failures_of_an_account_are_forgotten() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        for _ in 0..5 {
            assert!(try_at(&fleet.db, noon(), "ola@keel.example", ANOTHER).is_err());
        }
        for _ in 0..5 {
            let tried = try_at(&fleet.db, at("2026-11-26T12:00:01"), "ola@keel.example", ANOTHER);
            assert!(matches!(tried, Err(Error::Fields(_))), "{tried:?}");
        }
    });
}

#[test]
fn thirty_failures_from_one_network_address_in_ten_minutes_are_enough() {
    on_both(|fleet| {
        let hasher = Hasher::new(2);
        add(&fleet.db, "ola", Role::Manager, &[]);
        let from = |now, who: usize, address: &str| {
            let email = format!("guess{who}@keel.example");
            with_password(&fleet.db, &hasher, now, &attempt(&email, ANOTHER, address))
        };
        for who in 0..30 {
            assert!(matches!(from(noon(), who, "192.0.2.7"), Err(Error::Fields(_))));
        }
        assert_eq!(waits(from(noon(), 30, "192.0.2.7")), 600);
        assert_eq!(waits(from(after_noon(599), 30, "192.0.2.7")), 1);
        assert!(matches!(from(noon(), 31, "192.0.2.8"), Err(Error::Fields(_))));
        assert!(matches!(
            from(after_noon(600), 30, "192.0.2.7"),
            Err(Error::Fields(_))
        ));
    });
}

#[test]
fn many_at_once_are_no_way_round_the_count() {
    on_both(|fleet| {
        let db = &fleet.db;
        let heard: usize = std::thread::scope(|scope| {
            let tries: Vec<_> = (0..12)
                .map(|_| scope.spawn(move || try_at(db, noon(), "ola@keel.example", ANOTHER)))
                .collect();
            tries
                .into_iter()
                .map(|thread| usize::from(matches!(thread.join().unwrap(), Err(Error::Fields(_)))))
                .sum()
        });
        assert_eq!(heard, 5, "the sixth try has to wait, whoever was slow");
    });
}

#[test]
fn what_was_typed_is_kept_nowhere() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        // The password in the wrong field is a common slip.
        assert!(try_at(&fleet.db, noon(), "slipped quokka jar bloom", "ola@keel.example").is_err());
        let opened = try_at(&fleet.db, noon(), "ola@keel.example", PASSWORD).unwrap();
        let dump = dump(fleet);
        assert!(dump.contains("ola@keel.example"));
        for secret in ["slipped quokka", PASSWORD, opened.token.as_str(), "192.0.2.7"] {
            assert!(!dump.contains(secret), "the database holds {secret}");
        }
    });
}

#[test]
fn the_page_keeps_the_address_says_one_thing_and_then_how_long_to_wait() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, super::NOON);
        let visitor = server.visitor();
        let wrong = [("email", "ola@keel.example"), ("password", ANOTHER)];
        for _ in 0..5 {
            let page = visitor.send("/sign-in", &wrong);
            assert_eq!(page.status, 422);
            assert!(page.body.contains("value=\"ola@keel.example\""));
            assert!(page.body.contains("do not belong together"));
            assert!(!page.body.contains(ANOTHER), "a password is never sent back");
        }
        let page = visitor.send("/sign-in", &wrong);
        assert_eq!(page.status, 429);
        assert_eq!(page.headers.get("retry-after").unwrap(), "1");
        assert!(page.body.contains("Wait 1 second"));
    });
}

#[test]
fn after_sign_in_one_is_led_to_an_address_of_this_site_only() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, super::NOON);
        for (next, leads_to) in [
            ("/people?from=mail", "/people?from=mail"),
            ("https://elsewhere.example/", "/"),
            ("//elsewhere.example/", "/"),
            ("/\\elsewhere.example/", "/"),
            ("\\\\elsewhere.example", "/"),
            ("/\t/elsewhere.example", "/"),
            ("javascript:alert(1)", "/"),
            ("", "/"),
        ] {
            let fields = [
                ("email", "ola@keel.example"),
                ("password", PASSWORD),
                ("next", next),
            ];
            let answer = server.visitor().send("/sign-in", &fields);
            assert_eq!(
                (answer.status, answer.location.as_str()),
                (303, leads_to),
                "{next}"
            );
        }
    });
}

#[test]
fn roles_by_one_click_are_a_demos_alone() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let office = Server::start_at(&fleet.db, super::NOON, "http://checks.keel.example");
        assert_eq!(office.visitor().send("/demo/sign-in/manager", &[]).status, 404);
        assert!(!office.visitor().get("/sign-in").body.contains("/demo/sign-in/"));
        let demo = Server::start(&fleet.db, super::NOON);
        let page = demo.visitor().get("/sign-in").body;
        for role in ["manager", "technician", "owner"] {
            assert!(page.contains(&format!("action=\"/demo/sign-in/{role}\"")));
        }
        assert_eq!(person(&fleet.db, "ola@keel.example").role, Role::Manager);
    });
}
