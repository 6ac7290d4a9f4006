//! Who decides about people, and what follows from a role.

use std::collections::BTreeSet;

use anglestop::actions::people::change_role::{Assignment, assign};
use anglestop::actions::people::{invite, reset, standing};
use anglestop::domain::register::person::{Actor, Role, Scope, Standing};
use anglestop::error::Error;
use anglestop::store::{assignments, outbox};

use super::{PASSWORD, add, invitation, noon, person, two_buildings};
use crate::support::on_both;
use crate::support::server::Server;

const PUBLIC: &str = "http://here.example";

fn to(role: Role, places: &[&str]) -> Assignment {
    Assignment {
        role,
        places: places.iter().map(|&place| place.to_owned()).collect(),
    }
}

#[test]
fn only_a_manager_decides_about_people() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let ola = add(&fleet.db, "ola", Role::Manager, &[]);
        for role in [Role::Technician, Role::Owner] {
            let actor = Actor {
                person: Some(ola),
                role,
                scope: Scope::All,
                name: "somebody".to_owned(),
            };
            let (db, now) = (&fleet.db, noon());
            let whom = invitation("new", Role::Manager, &[]);
            let refusals = [
                invite::by_mail(db, &actor, now, PUBLIC, &whom).err(),
                invite::by_hand(db, &actor, now, PUBLIC, &whom).err(),
                invite::again(db, &actor, now, PUBLIC, ola).err(),
                standing::disable(db, &actor, now, ola).err(),
                standing::enable(db, &actor, now, ola).err(),
                assign(db, &actor, now, ola, &to(Role::Owner, &["LIND"])).err(),
                reset::by_hand(db, &actor, now, PUBLIC, ola).err(),
            ];
            assert!(
                refusals
                    .iter()
                    .all(|refusal| matches!(refusal, Some(Error::Forbidden(_))))
            );
        }
    });
}

#[test]
fn the_only_active_manager_stays() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let (db, operator) = (&fleet.db, Actor::operator());
        let ola = add(db, "ola", Role::Manager, &[]);
        let said = |done: Result<(), Error>| done.unwrap_err().to_string();
        assert!(said(standing::disable(db, &operator, noon(), ola)).contains("only active manager"));
        let owner = to(Role::Owner, &["LIND"]);
        assert!(said(assign(db, &operator, noon(), ola, &owner)).contains("only active manager"));
        let rosa = add(db, "rosa", Role::Manager, &[]);
        standing::disable(db, &operator, noon(), ola).unwrap();
        assert!(said(standing::disable(db, &operator, noon(), rosa)).contains("only active manager"));
        assert_eq!(person(db, "rosa@keel.example").standing, Standing::Active);
    });
}

#[test]
fn a_persons_places_are_what_they_see_and_fit_their_role() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let (db, operator) = (&fleet.db, Actor::operator());
        let tess = add(db, "tess", Role::Technician, &["ALDER"]);
        let seen = |role| match db.read(|conn| assignments::scope_of(conn, tess, role)).unwrap() {
            Scope::All => None,
            Scope::Buildings(buildings) => Some(
                buildings
                    .into_iter()
                    .map(|building| building.0)
                    .collect::<BTreeSet<_>>(),
            ),
        };
        assert_eq!(seen(Role::Technician), Some([1].into()));
        assign(
            db,
            &operator,
            noon(),
            tess,
            &to(Role::Technician, &["alder", "BIRCH"]),
        )
        .unwrap();
        assert_eq!(seen(Role::Technician), Some([1, 2].into()));
        let unknown = assign(db, &operator, noon(), tess, &to(Role::Technician, &["CEDAR"]));
        assert!(unknown.unwrap_err().to_string().contains("no building “CEDAR”"));
        assign(db, &operator, noon(), tess, &to(Role::Owner, &["MOSS"])).unwrap();
        assert_eq!(seen(Role::Owner), Some([2].into()));
        assert_eq!(
            seen(Role::Technician),
            Some(BTreeSet::new()),
            "the earlier places are gone"
        );
        let building = assign(db, &operator, noon(), tess, &to(Role::Owner, &["BIRCH"]));
        assert!(building.unwrap_err().to_string().contains("no portfolio “BIRCH”"));
        assign(db, &operator, noon(), tess, &to(Role::Manager, &[])).unwrap();
        assert_eq!(seen(Role::Manager), None);
        assert_eq!(seen(Role::Owner), Some(BTreeSet::new()));
    });
}

#[test]
fn an_invitation_names_who_what_for_and_where() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let try_it = |name: &str, role, places: &[&str]| {
            let whom = invitation(name, role, places);
            invite::by_mail(&fleet.db, &Actor::operator(), noon(), PUBLIC, &whom)
        };
        for (name, role, places, said) in [
            ("", Role::Manager, &[][..], "Name is empty"),
            ("two words", Role::Manager, &[][..], "is not a mail address"),
            ("tess", Role::Technician, &[][..], "Choose at least one"),
            ("ines", Role::Owner, &[][..], "Choose at least one"),
            ("tess", Role::Technician, &["CEDAR"][..], "no building “CEDAR”"),
        ] {
            let refusal = try_it(name, role, places).unwrap_err().to_string();
            assert!(refusal.contains(said), "{refusal}");
        }
        assert!(
            fleet
                .db
                .read(|conn| outbox::list(conn, None, 10))
                .unwrap()
                .is_empty()
        );
        try_it("tess", Role::Technician, &["ALDER"]).unwrap();
        let twice = try_it("tess", Role::Technician, &["ALDER"])
            .unwrap_err()
            .to_string();
        assert!(twice.contains("is here already"), "{twice}");
        assert_eq!(
            fleet.db.read(|conn| outbox::list(conn, None, 10)).unwrap().len(),
            1
        );
    });
}

#[test]
fn whoever_is_disabled_before_they_had_a_password_is_invited_again() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let (db, operator) = (&fleet.db, Actor::operator());
        let whom = invitation("tess", Role::Technician, &["ALDER"]);
        let link = invite::by_hand(db, &operator, noon(), PUBLIC, &whom).unwrap();
        let tess = person(db, "tess@keel.example").id;
        let server = Server::start(db, super::NOON);
        let path = link.strip_prefix(PUBLIC).unwrap();
        assert_eq!(server.visitor().get(path).status, 200);
        standing::disable(db, &operator, noon(), tess).unwrap();
        assert_eq!(server.visitor().get(path).status, 404);
        assert_eq!(server.visitor().send(path, &[("password", PASSWORD)]).status, 404);
        assert_eq!(
            standing::enable(db, &operator, noon(), tess).unwrap(),
            Standing::Invited
        );
        assert_eq!(server.visitor().get(path).status, 404, "the link ended for good");
    });
}

#[test]
fn a_manager_invites_assigns_disables_and_lets_in_again_by_page() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, super::NOON);
        let ola = server.signed_in("manager");
        let fields = [
            ("name", "Tess Vale"),
            ("email", "tess@keel.example"),
            ("role", "technician"),
            ("building", "ALDER"),
            ("portfolio", "MOSS"),
            ("time_zone", "Europe/Oslo"),
            ("digest_hour", "7"),
        ];
        let missing = ola.submit("/people/invite", "/people/invite", &fields[..2]);
        assert_eq!(missing.status, 422);
        assert!(missing.body.contains("value=\"Tess Vale\""));
        let done = ola.submit("/people/invite", "/people/invite", &fields);
        assert_eq!(done.status, 303, "{}", done.body);
        let page = done.location;
        assert!(ola.get(&page).body.contains("Tess Vale is invited"));
        let role = format!("{page}/role");
        let owner = [("role", "owner"), ("portfolio", "MOSS")];
        assert_eq!(ola.submit(&page, &role, &owner).status, 303);
        assert_eq!(person(&fleet.db, "tess@keel.example").role, Role::Owner);
        for (action, standing) in [("disable", Standing::Disabled), ("enable", Standing::Invited)] {
            assert_eq!(ola.submit(&page, &format!("{page}/{action}"), &[]).status, 303);
            assert_eq!(person(&fleet.db, "tess@keel.example").standing, standing);
        }
        let list = ola.get("/people").body;
        assert!(list.contains("MOSS holdings") && list.contains("invited, no password yet"));
    });
}

#[test]
fn zone_and_hour_are_ones_own_to_set() {
    on_both(|fleet| {
        add(&fleet.db, "ola", Role::Manager, &[]);
        let server = Server::start(&fleet.db, super::NOON);
        let ola = server.signed_in("manager");
        let set = |zone: &str, hour: &str| {
            let fields = [("time_zone", zone), ("digest_hour", hour)];
            ola.submit("/account", "/account/hours", &fields)
        };
        let wrong = set("Midwest", "24");
        assert_eq!(wrong.status, 422);
        assert!(
            wrong.body.contains("“Midwest” is not a time zone") && wrong.body.contains("value=\"Midwest\"")
        );
        assert!(wrong.body.contains("must be from 0 to 23"));
        assert_eq!(set("Europe/Oslo", "5").status, 303);
        let facts = person(&fleet.db, "ola@keel.example").facts;
        assert_eq!((facts.time_zone.name(), facts.digest_hour), ("Europe/Oslo", 5));
    });
}
