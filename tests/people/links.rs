//! Invitations and new passwords by one-time links (OWASP Forgot Password Cheat Sheet; ASVS 5.0, 6.4 and 6.5).

use std::path::Path;

use anglestop::actions::people::{invite, reset, standing};
use anglestop::clock::Clock;
use anglestop::domain::register::person::{Actor, Role, Standing};
use anglestop::jobs::Clockwork;
use anglestop::mail::deliver::{Mailer, Target};
use anglestop::store::{Db, outbox};

use super::{ANOTHER, NOON, PASSWORD, add, after_noon, at, dump, invitation, noon, person, two_buildings};
use crate::support::on_both;
use crate::support::server::{Answer, Browser, Server};

const PUBLIC: &str = "https://checks.keel.example";

/// Delivers what waits into a folder, and answers with the text of each file.
fn deliver(db: &Db, now: anglestop::clock::Now) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let target = Target::Folder(folder.path().to_owned());
    let clockwork = Clockwork {
        db: db.clone(),
        clock: Clock::System,
        mailer: Some(Mailer::new(&target, "Office <office@keel.example>").unwrap()),
        public_url: PUBLIC.to_owned(),
    };
    clockwork.round(now).unwrap();
    let files = |folder: &Path| -> Vec<String> {
        std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "eml"))
            .map(|path| std::fs::read_to_string(path).unwrap())
            .collect()
    };
    files(folder.path())
}

/// The path of the link in a mail: soft line ends taken out (RFC 2045, 6.7).
fn link_in(mail: &str, kind: &str) -> String {
    let text = mail.replace("=\r\n", "").replace("=3D", "=");
    let start = text
        .find(&format!("{PUBLIC}/{kind}/"))
        .unwrap_or_else(|| panic!("no link in {text}"));
    let link = text[start..].split_whitespace().next().unwrap();
    link.strip_prefix(PUBLIC).unwrap().to_owned()
}

fn invite(db: &Db, name: &str) {
    let whom = invitation(name, Role::Technician, &["ALDER"]);
    invite::by_mail(db, &Actor::operator(), noon(), PUBLIC, &whom).unwrap();
}

fn choose(browser: &Browser, link: &str, password: &str) -> Answer {
    browser.send(link, &[("password", password)])
}

fn signs_in(server: &Server, email: &str, password: &str) -> bool {
    let fields = [("email", email), ("password", password)];
    server.visitor().send("/sign-in", &fields).status == 303
}

#[test]
fn an_invitation_is_mailed_looked_at_freely_and_taken_once() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        invite(&fleet.db, "tess");
        let mails = deliver(&fleet.db, noon());
        assert_eq!(mails.len(), 1);
        let link = link_in(&mails[0], "invite");
        let server = Server::start(&fleet.db, NOON);
        for _ in 0..3 {
            let page = server.visitor().get(&link);
            assert_eq!(page.status, 200);
            assert!(page.body.contains("tess@keel.example"));
        }
        assert_eq!(person(&fleet.db, "tess@keel.example").standing, Standing::Invited);
        let short = choose(&server.visitor(), &link, "too short");
        assert_eq!(short.status, 422);
        assert!(short.body.contains("at least 15"), "{}", short.body);
        let browser = server.visitor();
        assert_eq!(choose(&browser, &link, PASSWORD).status, 303);
        assert_eq!(browser.get("/account").status, 200, "taking it signs in");
        assert_eq!(choose(&server.visitor(), &link, ANOTHER).status, 404);
        assert_eq!(server.visitor().get(&link).status, 404);
        assert!(signs_in(&server, "tess@keel.example", PASSWORD));
    });
}

#[test]
fn a_link_stands_in_the_mail_alone() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let ola = add(&fleet.db, "ola", Role::Manager, &[]);
        invite(&fleet.db, "tess");
        reset::request(
            &fleet.db,
            noon(),
            PUBLIC,
            "ola@keel.example",
            anglestop::actions::people::throttle::Origin(None),
        )
        .unwrap();
        let mails = deliver(&fleet.db, noon());
        assert_eq!(mails.len(), 2);
        let dump = dump(fleet);
        let server = Server::start(&fleet.db, NOON);
        let manager = server.signed_in("manager");
        for kind in ["invite", "reset"] {
            let mail = mails
                .iter()
                .find(|mail| mail.contains(&format!("/{kind}/")))
                .unwrap();
            let link = link_in(mail, kind);
            let token = link.rsplit('/').next().unwrap();
            assert_eq!(token.len(), 43, "256 bits in base64url: {token}");
            assert!(!dump.contains(token), "the database holds {token}");
        }
        for mail in fleet.db.read(|conn| outbox::list(conn, None, 10)).unwrap() {
            assert_eq!(mail.status, "sent");
            let page = manager.get(&format!("/mail/{}", mail.id));
            assert_eq!(page.status, 200);
            assert!(
                !page.body.contains(&format!("{PUBLIC}/invite/"))
                    && !page.body.contains(&format!("{PUBLIC}/reset/"))
            );
        }
        assert_eq!(person(&fleet.db, "ola@keel.example").id, ola);
    });
}

#[test]
fn an_invitation_is_good_for_seven_days_from_its_mail_on() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        invite(&fleet.db, "tess");
        let mails = deliver(&fleet.db, at("2026-11-30T12:00:00"));
        let link = link_in(&mails[0], "invite");
        let server = Server::start(&fleet.db, "2026-12-02T11:59:59");
        assert_eq!(server.visitor().get(&link).status, 200);
        server.clock.set("2026-12-02T12:00:00".parse().unwrap());
        assert_eq!(server.visitor().get(&link).status, 404);
        assert_eq!(choose(&server.visitor(), &link, PASSWORD).status, 404);
    });
}

#[test]
fn a_mail_whose_link_would_be_over_is_not_sent() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        invite(&fleet.db, "tess");
        assert!(deliver(&fleet.db, at("2026-12-02T12:00:00")).is_empty());
        let mails = fleet.db.read(|conn| outbox::list(conn, None, 10)).unwrap();
        assert_eq!(mails[0].status, "failed");
        assert!(mails[0].last_error.contains("is over"), "{}", mails[0].last_error);
    });
}

#[test]
fn an_invitation_sent_again_is_another_mail_and_taking_one_ends_both() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        invite(&fleet.db, "tess");
        let tess = person(&fleet.db, "tess@keel.example").id;
        invite::again(&fleet.db, &Actor::operator(), noon(), PUBLIC, tess).unwrap();
        assert_eq!(
            deliver(&fleet.db, noon()).len(),
            1,
            "within a minute it is the same"
        );
        invite::again(&fleet.db, &Actor::operator(), after_noon(120), PUBLIC, tess).unwrap();
        let second = link_in(&deliver(&fleet.db, after_noon(120))[0], "invite");
        let server = Server::start(&fleet.db, "2026-11-25T12:05:00");
        assert_eq!(choose(&server.visitor(), &second, PASSWORD).status, 303);
        let again = invite::again(&fleet.db, &Actor::operator(), after_noon(600), PUBLIC, tess);
        assert!(again.is_err_and(|refusal| refusal.to_string().contains("no invitation")));
    });
}

#[test]
fn a_new_password_comes_by_a_link_good_for_an_hour_and_ends_every_session() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        let earlier = server.signed_in("manager");
        assert_eq!(
            server
                .visitor()
                .send("/reset", &[("email", "OLA@keel.example")])
                .status,
            200
        );
        let link = link_in(&deliver(&fleet.db, noon())[0], "reset");
        server.clock.set("2026-11-25T12:59:59".parse().unwrap());
        assert_eq!(server.visitor().get(&link).status, 200);
        assert_eq!(earlier.get("/account").status, 200, "looking changes nothing");
        assert_eq!(choose(&server.visitor(), &link, ANOTHER).location, "/sign-in");
        assert_eq!(earlier.get("/account").status, 303);
        assert!(!signs_in(&server, "ola@keel.example", PASSWORD));
        assert!(signs_in(&server, "ola@keel.example", ANOTHER));
        assert_eq!(choose(&server.visitor(), &link, PASSWORD).status, 404);
    });
}

#[test]
fn a_link_to_a_new_password_is_over_after_an_hour() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        server.visitor().send("/reset", &[("email", "ola@keel.example")]);
        let link = link_in(&deliver(&fleet.db, after_noon(1800))[0], "reset");
        server.clock.set("2026-11-25T13:00:00".parse().unwrap());
        assert_eq!(server.visitor().get(&link).status, 404);
    });
}

#[test]
fn an_unknown_address_is_answered_like_a_known_one_and_nothing_is_sent() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let rosa = add(&fleet.db, "rosa", Role::Manager, &[]);
        standing::disable(&fleet.db, &Actor::operator(), noon(), rosa).unwrap();
        let server = Server::start(&fleet.db, NOON);
        let answers: Vec<(u16, String)> = [
            "ola@keel.example",
            "nobody@keel.example",
            "rosa@keel.example",
            "no address",
        ]
        .iter()
        .map(|email| server.visitor().send("/reset", &[("email", email)]))
        .map(|answer| (answer.status, answer.body))
        .collect();
        assert!(answers.iter().all(|answer| *answer == answers[0]), "{answers:?}");
        let mails = fleet.db.read(|conn| outbox::list(conn, None, 10)).unwrap();
        assert_eq!(mails.len(), 1);
        assert_eq!(mails[0].to_address, "ola@keel.example");
    });
}

#[test]
fn asking_again_within_ten_minutes_sends_no_second_mail_and_thirty_from_one_address_are_enough() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        for _ in 0..30 {
            assert_eq!(
                server
                    .visitor()
                    .send("/reset", &[("email", "ola@keel.example")])
                    .status,
                200
            );
        }
        assert_eq!(
            server
                .visitor()
                .send("/reset", &[("email", "ola@keel.example")])
                .status,
            429
        );
        let mails = fleet.db.read(|conn| outbox::list(conn, None, 100)).unwrap();
        assert_eq!(mails.len(), 1);
    });
}

#[test]
fn a_link_leads_to_the_public_address_whatever_host_a_request_names() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start_at(&fleet.db, NOON, PUBLIC);
        let headers = [
            ("host", "elsewhere.example"),
            ("x-forwarded-host", "elsewhere.example"),
        ];
        let form = "application/x-www-form-urlencoded";
        let answer = server
            .visitor()
            .send_with("/reset", &headers, form, "email=ola%40keel.example");
        assert_eq!(answer.status, 200);
        let mail = deliver(&fleet.db, noon()).remove(0);
        assert!(!mail.contains("elsewhere.example"), "{mail}");
        assert!(link_in(&mail, "reset").starts_with("/reset/"));
    });
}

#[test]
fn a_password_with_a_word_of_ones_own_building_is_refused_at_the_link() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        invite(&fleet.db, "tess");
        let link = link_in(&deliver(&fleet.db, noon())[0], "invite");
        let server = Server::start(&fleet.db, NOON);
        for (password, said) in [
            ("quartz alder noodle vane", "“alder”, a word of a building here"),
            ("quartz noodle tess vane brick", "“tess”, a word of your name"),
            ("correct horse battery staple", "Many people use this password"),
        ] {
            let page = choose(&server.visitor(), &link, password);
            assert_eq!(page.status, 422, "{password}");
            assert!(page.body.contains(said), "{password}: {}", page.body);
        }
        // Another technician's building is nobody's word here.
        assert_eq!(
            choose(&server.visitor(), &link, "quartz birch noodle vane").status,
            303
        );
    });
}
