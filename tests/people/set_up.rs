//! The first start: no default account, one link (OWASP ASVS 5.0, 6.3).

use anglestop::actions::people::set_up;
use anglestop::domain::register::person::{Role, Standing};
use anglestop::store::people;

use super::{NOON, PASSWORD, add, after_noon, dump, noon, person};
use crate::support::on_both;
use crate::support::server::Server;

const PUBLIC: &str = "http://here.example";

const FIELDS: [(&str, &str); 4] = [
    ("name", "Ola Brandt"),
    ("email", "ola@keel.example"),
    ("time_zone", "Europe/Oslo"),
    ("password", PASSWORD),
];

fn path(link: &str) -> String {
    link.strip_prefix(PUBLIC).unwrap().to_owned()
}

#[test]
fn there_is_nobody_until_somebody_takes_the_printed_link() {
    on_both(|fleet| {
        assert!(
            fleet.db.read(people::nobody).unwrap(),
            "no account is there by default"
        );
        let link = path(&set_up::offer(&fleet.db, noon(), PUBLIC).unwrap().unwrap());
        assert!(!dump(fleet).contains(link.rsplit('/').next().unwrap()));
        let server = Server::start(&fleet.db, NOON);
        assert_eq!(server.visitor().get(&link).status, 200);
        let wrong = server
            .visitor()
            .send(&link, &[("name", "Ola Brandt"), ("password", "short")]);
        assert_eq!(wrong.status, 422);
        for said in ["Mail address is empty", "Time zone is empty", "at least 15"] {
            assert!(wrong.body.contains(said), "{said}");
        }
        let own = server.visitor().send(
            &link,
            &[&FIELDS[..3], &[("password", "quartz brandt noodle vane")]].concat(),
        );
        assert!(own.body.contains("“brandt”, a word of your name"));
        let browser = server.visitor();
        assert_eq!(browser.send(&link, &FIELDS).status, 303);
        assert_eq!(
            browser.get("/people").status,
            200,
            "the first manager is signed in"
        );
        let first = person(&fleet.db, "ola@keel.example");
        assert_eq!((first.role, first.standing), (Role::Manager, Standing::Active));
        assert_eq!(server.visitor().send(&link, &FIELDS).status, 404);
        assert_eq!(set_up::offer(&fleet.db, noon(), PUBLIC).unwrap(), None);
    });
}

#[test]
fn another_start_makes_another_link_and_a_day_ends_it() {
    on_both(|fleet| {
        let first = path(&set_up::offer(&fleet.db, noon(), PUBLIC).unwrap().unwrap());
        let second = path(&set_up::offer(&fleet.db, after_noon(60), PUBLIC).unwrap().unwrap());
        let server = Server::start(&fleet.db, "2026-11-25T12:02:00");
        assert_eq!(server.visitor().get(&first).status, 404);
        assert_eq!(server.visitor().get(&second).status, 200);
        server.clock.set("2026-11-26T12:01:00".parse().unwrap());
        assert_eq!(server.visitor().send(&second, &FIELDS).status, 404);
    });
}

#[test]
fn a_link_is_worth_nothing_once_somebody_is_here() {
    on_both(|fleet| {
        let link = path(&set_up::offer(&fleet.db, noon(), PUBLIC).unwrap().unwrap());
        add(&fleet.db, "rosa", Role::Manager, &[]);
        let server = Server::start(&fleet.db, NOON);
        assert_eq!(server.visitor().get(&link).status, 404);
        assert_eq!(server.visitor().send(&link, &FIELDS).status, 404);
        assert!(
            fleet
                .db
                .read(|conn| people::by_email(conn, "ola@keel.example"))
                .unwrap()
                .is_none()
        );
    });
}
