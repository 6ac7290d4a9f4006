//! The register by page: what is shown to whom, forms that keep what was typed, and another's building.

use super::house::{house, of_kind};
use crate::support::on_both;
use crate::support::server::{Answer, Server};
use scraper::Selector;

fn select(answer: &Answer, selector: &str) -> Vec<String> {
    let wanted = Selector::parse(selector).unwrap();
    answer
        .page()
        .select(&wanted)
        .map(|element| element.text().collect::<String>().trim().to_owned())
        .collect()
}

fn value_of(answer: &Answer, name: &str) -> String {
    let wanted = Selector::parse(&format!("[name='{name}']")).unwrap();
    let page = answer.page();
    let element = page.select(&wanted).next().unwrap();
    element.value().attr("value").unwrap_or_default().to_owned()
}

#[test]
fn the_register_grows_by_page_from_portfolio_to_part() {
    on_both(|fleet| {
        house(&fleet.db);
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let send = |path: &str, fields: &[(&str, &str)]| {
            let answer = manager.submit(path, path, fields);
            assert_eq!(answer.status, 303, "{path}: {}", answer.body);
            answer.location
        };
        send("/portfolios/new", &[("code", "west"), ("name", "West Row")]);
        let building = send(
            "/buildings/new",
            &[
                ("code", "cedar"),
                ("name", "Cedar Row"),
                ("portfolio", "WEST"),
                ("time_zone", "Europe/Berlin"),
                ("code_profile", "own"),
                ("length_unit", "mm"),
                ("notice_hours", "48"),
                ("base_joint", "rear_open"),
            ],
        );
        assert_eq!(building, "/buildings/CEDAR");
        let unit = send(
            "/buildings/CEDAR/units/new",
            &[
                ("label", "2A"),
                ("floor", "2"),
                ("riser", "1"),
                ("kind", "unit"),
                ("occupancy", "vacant"),
            ],
        );
        let fixture = send(
            &format!("{unit}/fixtures/new"),
            &[
                ("kind", "water_closet"),
                ("room", "Bath"),
                ("installed_on", "2019"),
                ("parts", "standard"),
            ],
        );
        let page = manager.get(&fixture);
        assert_eq!(select(&page, "h1"), ["WC-1 · Water closet"]);
        assert!(page.body.contains("about Jul 2019, 6 years"), "{}", page.body);
        assert!(page.body.contains("Local codes and licensed practice decide."));
        assert!(
            !select(&page, "#due + table tbody tr").is_empty(),
            "its checks come due"
        );
        send(
            &format!("{fixture}/parts/new"),
            &[("kind", "seat"), ("installed_on", "")],
        );
        assert!(manager.get(&fixture).body.contains("Seat"));
        let shown = manager.get("/buildings/CEDAR");
        assert!(shown.body.contains("Cedar Row from the street"));
        assert_eq!(select(&shown, "tbody th a"), ["2A"]);
        send(
            &format!("{fixture}/replace"),
            &[("kind", "water_closet"), ("parts", "standard")],
        );
        assert!(
            manager
                .get(&fixture)
                .body
                .contains("Go to the water closet that stands at WC-1 now")
        );
    });
}

#[test]
fn a_form_that_cannot_be_used_comes_back_with_its_values_and_says_what_to_do() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let path = format!("/units/{}/fixtures/new", house.unit);
        let fields = [
            ("kind", "water_closet"),
            ("tag", "WC 1"),
            ("maker", "Harrow <b>"),
            ("installed_on", "2031-01-01"),
            ("parts", "standard"),
        ];
        let answer = manager.submit(&path, &path, &fields);
        assert_eq!(answer.status, 422);
        assert_eq!(value_of(&answer, "tag"), "WC 1");
        assert_eq!(value_of(&answer, "maker"), "Harrow <b>");
        assert_eq!(value_of(&answer, "installed_on"), "2031-01-01");
        let said = select(&answer, ".error-summary a");
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(
            said[0].contains("such as WC-1") && said[1].contains("in the future"),
            "{said:?}"
        );
        assert_eq!(house.count("SELECT count(*) AS count FROM fixtures"), 0);

        let answer = manager.submit(
            "/buildings/new",
            "/buildings/new",
            &[("code", "x y"), ("time_zone", "Chicago")],
        );
        assert_eq!(answer.status, 422);
        assert_eq!(value_of(&answer, "code"), "x y");
        assert_eq!(
            select(&answer, ".error-summary a").len(),
            4,
            "portfolio, code, name and zone"
        );
    });
}

#[test]
fn another_buildings_records_are_not_there_for_a_technician() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let (manager, technician) = (server.signed_in("manager"), server.signed_in("technician"));
        let path = format!("/units/{}/fixtures/new", house.neighbour);
        let theirs = manager
            .submit(&path, &path, &[("kind", "water_closet"), ("parts", "standard")])
            .location;
        let part = house.part(
            anglestop::domain::register::FixtureId(theirs.rsplit('/').next().unwrap().parse().unwrap()),
            anglestop::domain::trade::PartKind::Flapper,
        );
        for path in [
            "/buildings/BIRCH".to_owned(),
            format!("/units/{}", house.neighbour),
            theirs.clone(),
            format!("{theirs}/edit"),
            format!("{theirs}/parts/new"),
            format!("/parts/{part}/change"),
            format!("/parts/{part}/replace"),
        ] {
            assert_eq!(technician.get(&path).status, 404, "{path}");
            assert_eq!(manager.get(&path).status, 200, "{path}");
        }
        let own = format!("/units/{}", house.unit);
        let sent = technician.submit(&own, &format!("/parts/{part}/replace"), &[]);
        assert_eq!(sent.status, 404);
        let list = technician.get("/buildings");
        assert!(list.body.contains("ALDER") && !list.body.contains("BIRCH"));
        for path in [
            "/buildings/new".to_owned(),
            format!("{own}/edit"),
            format!("{own}/households/new"),
        ] {
            assert_eq!(technician.get(&path).status, 403, "{path}");
        }
    });
}

#[test]
fn a_technician_sees_what_an_entry_needs_and_no_contact_and_an_owner_nothing() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let path = format!("/units/{}/households/new", house.unit);
        let fields = [
            ("name", "Okafor"),
            ("language", "es"),
            ("contact", "555-0117"),
            ("agreed_hours", "weekdays after 15:00"),
            ("no_entry_days", "Fridays"),
            ("moved_in_on", "2025-02-01"),
        ];
        assert_eq!(manager.submit(&path, &path, &fields).status, 303);
        let unit = format!("/units/{}", house.unit);
        let office = manager.get(&unit).body;
        assert!(office.contains("555-0117") && office.contains("Okafor"));
        let door = server.signed_in("technician").get(&unit).body;
        for needed in ["Okafor", "Spanish", "weekdays after 15:00", "Fridays", "24 hours"] {
            assert!(door.contains(needed), "{needed}");
        }
        assert!(!door.contains("555-0117"));
        let owner = server.signed_in("owner");
        for path in [unit, "/buildings".to_owned(), "/households/1/edit".to_owned()] {
            assert_eq!(owner.get(&path).status, 403, "{path}");
        }
    });
}

#[test]
fn a_fixtures_page_shows_the_history_of_its_place_across_a_replacement() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.add("2025-02-01", &of_kind("water_closet", "2010")).unwrap();
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let manager = server.signed_in("manager");
        let path = format!("/fixtures/{old}/replace");
        let new = manager
            .submit(
                &path,
                &path,
                &[("kind", "water_closet"), ("maker", "Harrow"), ("parts", "none")],
            )
            .location;
        let page = manager.get(&new);
        assert!(
            select(&page, ".aside li a")
                .iter()
                .any(|words| words.contains("replaced")),
            "{}",
            page.body
        );
        assert!(page.body.contains("None is noted."), "without parts, as told");
        let former = manager.get(&format!("/fixtures/{old}"));
        assert!(former.body.contains("What stood here"));
        assert!(!former.body.contains(&format!("/fixtures/{old}/retire")));
    });
}

#[test]
fn an_address_that_names_nothing_leads_on() {
    on_both(|fleet| {
        house(&fleet.db);
        let server = Server::start(&fleet.db, "2025-11-25T18:00:00");
        let manager = server.signed_in("manager");
        for path in [
            "/units/999",
            "/units/abc",
            "/fixtures/0",
            "/buildings/NOPE",
            "/parts/9/change",
            "/households/7/edit",
            "/portfolios/NOPE/edit",
        ] {
            let answer = manager.get(path);
            assert_eq!(answer.status, 404, "{path}");
            assert!(
                answer.body.contains("To the start page"),
                "{path}: {}",
                answer.body
            );
        }
    });
}
