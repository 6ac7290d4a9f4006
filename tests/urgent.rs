//! Emergencies: what to do comes first, whom to call before any form, and what is taken down is a record that every manager gets once.

use anglestop::actions::urgent::{Report, report};
use anglestop::clock::Now;
use anglestop::domain::code::Coded as _;
use anglestop::domain::register::PersonFacts;
use anglestop::domain::register::person::{Actor, Role, Scope, Standing};
use anglestop::domain::trade::urgent::Urgency;
use anglestop::store::{Db, buildings, outbox, people, urgent};
use scraper::{Html, Selector};
use uuid::Uuid;

use crate::support::chrome::Chrome;
use crate::support::demo::{self, AS_OF_INSTANT};
use crate::support::on_both;
use crate::support::server::Server;
use crate::support::sqlite;
use crate::support::two_owners::{THEN, TwoOwners};

fn now() -> Now {
    Now(THEN.parse().unwrap())
}

fn texts(body: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(body);
    let wanted = Selector::parse(selector).unwrap();
    page.select(&wanted)
        .map(|one| {
            one.text()
                .collect::<String>()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect()
}

#[test]
fn the_first_line_says_what_to_do_and_calls_stand_before_any_form() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        let server = Server::start(&fleet.db, THEN);
        let firsts = [
            ("gas", "Leave now, touch no switch, call from outside."),
            ("carbon_monoxide", "Get everybody into fresh air, at once."),
            (
                "sparks",
                "Fire or smoke: leave, close the door behind you, call from outside.",
            ),
            ("sewage", "Keep people and animals away from it."),
            (
                "flooding",
                "Stay out of water that reaches outlets, cords or appliances.",
            ),
        ];
        let technician = server.holding(&two.held("technician_assigned").unwrap().token);
        for browser in [server.visitor(), technician] {
            let body = browser.get("/urgent").body;
            for (code, first) in firsts {
                let steps = texts(&body, &format!("#{code} ol > li"));
                assert_eq!(steps.first().map(String::as_str), Some(first), "{code}");
                // The only number that nobody needs to set is the emergency number.
                let calls = texts(&body, &format!("#{code} .calls a[href='tel:911']"));
                let wanted = usize::from(!matches!(code, "sewage" | "flooding"));
                assert_eq!(calls.len(), wanted, "{code}: {calls:?}");
                let (ol, ul) = (
                    body.find(first).unwrap(),
                    body[body.find(first).unwrap()..].find("class=\"calls\""),
                );
                assert!(ul.is_some(), "{code}: whom to call follows at {ol}");
            }
            let main = &body[body.find("<main").unwrap()..];
            let last_call = main.rfind("class=\"calls\"").unwrap();
            assert!(
                main.find("<form").is_none_or(|form| form > last_call),
                "a form before a call"
            );
        }
        assert_eq!(
            Urgency::ALL.len(),
            firsts.len(),
            "every kind has its first line here"
        );
        assert!(
            !server.visitor().get("/urgent").body.contains("name=\"kind\""),
            "the record is for staff"
        );
    });
}

#[test]
fn a_building_has_numbers_of_its_own_and_the_office_s_where_it_has_none() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        let server = Server::start(&fleet.db, THEN);
        let manager = server.holding(&two.held("manager").unwrap().token);
        let set = manager.submit(
            "/urgent/edit",
            "/urgent/edit",
            &[("emergency", "112"), ("plumber", "555 0100")],
        );
        assert_eq!(set.status, 303, "{}", set.body);
        let own = "/urgent/edit?building=ALDER";
        let bad = manager.submit(own, "/urgent/edit", &[("building", "ALDER"), ("gas", "ask Ola")]);
        assert!(
            bad.status == 422 && bad.body.contains("be dialled"),
            "{}",
            bad.body
        );
        let set = manager.submit(
            own,
            "/urgent/edit",
            &[("building", "ALDER"), ("gas", "+1 555 010 0199")],
        );
        assert_eq!(
            (set.status, set.location.as_str()),
            (303, "/urgent?building=ALDER")
        );
        let calls = |body: &str| {
            let mut found = texts(body, "#gas .calls a b");
            found.extend(texts(body, "#sewage .calls a b"));
            found
        };
        let alder = manager.get("/urgent?building=ALDER").body;
        assert_eq!(calls(&alder), ["112", "+1 555 010 0199", "555 0100"]);
        assert!(alder.contains("href=\"tel:+15550100199\""));
        let office = ["112", "555 0100"];
        assert_eq!(calls(&manager.get("/urgent").body), office);
        assert_eq!(
            calls(&manager.get("/urgent?building=NONE").body),
            office,
            "an unknown code stops nobody"
        );
        // Neither the numbers nor the name of a building that one may not see.
        for persona in ["technician_elsewhere", "owner_of_another"] {
            let other = server
                .holding(&two.held(persona).unwrap().token)
                .get("/urgent?building=ALDER")
                .body;
            assert_eq!(calls(&other), office, "{persona}");
        }
        assert_eq!(
            calls(&server.visitor().get("/urgent?building=ALDER").body),
            office
        );
        let page = manager.get("/buildings/ALDER").body;
        assert!(
            page.contains("class=\"urgent\" href=\"/urgent?building=ALDER\""),
            "one tap from the building"
        );
    });
}

fn by_tess(two: &TwoOwners, db: &Db) -> (Actor, Report) {
    let building = db
        .read(|conn| buildings::by_code(conn, &Scope::All, "ALDER"))
        .unwrap();
    let actor = Actor {
        person: Some(two.own.technician),
        role: Role::Technician,
        scope: Scope::Buildings([building.id].into()),
        name: "Tess Vale".to_owned(),
    };
    let report = Report {
        client_id: Uuid::new_v4(),
        kind: Urgency::Gas,
        building: None,
        unit: Some(two.own.unit),
        note: "household let me in at the back".to_owned(),
        said_at: "2026-11-25T14:30:00".parse().unwrap(),
    };
    (actor, report)
}

#[test]
fn every_active_manager_gets_one_mail_that_says_it_is_no_alarm() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        let facts = PersonFacts {
            name: "Mira Holt".to_owned(),
            email: "mira.holt@keel.example".to_owned(),
            time_zone: chrono_tz::America::Chicago,
            digest_hour: 6,
            language: anglestop::domain::register::LanguageTag::usual(),
        };
        fleet
            .db
            .write(|tx| people::insert(tx, now(), &facts, Role::Manager, Standing::Active))
            .unwrap();
        let (tess, said) = by_tess(&two, &fleet.db);
        assert!(report(&fleet.db, &tess, now(), &said).unwrap());
        let again = Report {
            note: "other words".to_owned(),
            kind: Urgency::Sewage,
            ..said.clone()
        };
        assert!(
            !report(&fleet.db, &tess, now(), &again).unwrap(),
            "the same id changes nothing"
        );
        let mails: Vec<_> = fleet.db.read(|conn| outbox::list(conn, None, 50)).unwrap();
        let mails: Vec<_> = mails
            .into_iter()
            .filter(|mail| mail.subject.starts_with("For the record"))
            .collect();
        let mut to: Vec<&str> = mails.iter().map(|mail| mail.to_address.as_str()).collect();
        to.sort_unstable();
        // Nora Kest is a manager too, and disabled.
        assert_eq!(to, ["mira.holt@keel.example", "ola.brandt@keel.example"]);
        for mail in &mails {
            assert_eq!(mail.kind, "note");
            assert_eq!(
                mail.subject,
                "For the record: smell of gas, building-name, unit 204"
            );
            assert!(
                mail.text
                    .starts_with("This is the record, not the alarm: nobody was called"),
                "{}",
                mail.text
            );
            for word in [
                "Where: building-name, unit 204",
                "building-address",
                "Who says so: Tess Vale",
                "Wed 25 Nov 2026, 08:30",
            ] {
                assert!(mail.text.contains(word), "{word}: {}", mail.text);
            }
            for part in [&mail.text, &mail.html] {
                // The household of the unit, how it is reached and when it is in; and what was noted, which may name people.
                for word in [
                    "household",
                    "contact",
                    "agreed-hours",
                    "no-entry-days",
                    "let me in",
                ] {
                    assert!(!part.contains(word), "{word}: {part}");
                }
            }
        }
        let kept = fleet
            .db
            .read(|conn| urgent::latest(conn, &Scope::All, 10))
            .unwrap();
        assert_eq!(kept.len(), 1);
        assert_eq!(
            (kept[0].kind, kept[0].note.as_str()),
            (Urgency::Gas, said.note.as_str())
        );
        assert_eq!((kept[0].said_at, kept[0].received_at), (said.said_at, now().0));
    });
}

#[test]
fn a_report_is_of_a_place_that_one_may_see_and_never_of_a_time_to_come() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        let (tess, said) = by_tess(&two, &fleet.db);
        let elsewhere = Report {
            unit: Some(two.other.unit),
            ..said.clone()
        };
        let refused = report(&fleet.db, &tess, now(), &elsewhere)
            .unwrap_err()
            .to_string();
        assert_eq!(refused, "There is no such unit here.");
        let owner = Actor {
            role: Role::Owner,
            ..tess.clone()
        };
        assert!(report(&fleet.db, &owner, now(), &said).is_err());
        let tomorrow = Report {
            unit: None,
            said_at: "2026-11-26T14:30:00".parse().unwrap(),
            ..said
        };
        assert!(report(&fleet.db, &tess, now(), &tomorrow).unwrap());
        let kept = fleet
            .db
            .read(|conn| urgent::latest(conn, &tess.scope, 10))
            .unwrap();
        assert_eq!(kept.len(), 1, "no place is no reason to keep nothing");
        assert_eq!((kept[0].said_at, kept[0].building.as_ref()), (now().0, None));
    });
}

#[test]
fn the_form_takes_it_down_once_without_script_and_the_manager_sees_it() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    let chrome = Chrome::start();
    chrome.without_script();
    chrome.open(&format!("{}/sign-in", server.address));
    chrome.click("form[action='/demo/sign-in/technician'] button");
    chrome.open(&format!("{}/urgent?building=ALDER-HOUSE", server.address));
    chrome.tap("label[for='kind-4']");
    chrome.fill("#unit", "no such");
    chrome.click("form[action='/urgent'] .act");
    chrome.expect("There is no unit “no such” in this building.");
    chrome.fill("#unit", "204");
    chrome.fill("#note", "Stack backs up; called the plumber.");
    chrome.click("form[action='/urgent'] .act");
    chrome.expect("Taken down, and mailed to every manager.");
    assert!(
        !chrome.text().contains("Stack backs up"),
        "the record is the manager's"
    );
    let page = server.signed_in("manager").get("/urgent").body;
    let rows = texts(&page, "#reports ~ table tbody tr");
    assert_eq!(rows.len(), 1, "{rows:?}");
    for word in [
        "Sewage comes up",
        "Alder House",
        "204",
        "Stack backs up; called the plumber.",
        "Wed 25 Nov, 12:00",
    ] {
        assert!(rows[0].contains(word), "{word}: {}", rows[0]);
    }
}
