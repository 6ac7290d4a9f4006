//! The rules of the register, each by name.

use anglestop::actions::register::add_building::{self, BuildingForm};
use anglestop::actions::register::add_fixture::AddFixture;
use anglestop::actions::register::change_fixture::{self, ChangeFixture};
use anglestop::actions::register::change_tag::{self, TagForm};
use anglestop::actions::register::move_fixture::{self, MoveFixture};
use anglestop::actions::register::replace_fixture::{self, ReplaceFixture};
use anglestop::actions::register::retire_fixture::{self, RetireFixture};
use anglestop::actions::register::{
    add_household, add_room, add_unit, arrange_rooms, change_building, change_unit, move_out,
};
use anglestop::domain::register::person::Scope;
use anglestop::domain::register::unit::spread_of;
use anglestop::domain::register::{
    BuildingText, FixtureText, HouseholdText, Installed, Occupancy, Service, UnitText,
};
use anglestop::domain::trade::PartKind;
use anglestop::error::Error;
use anglestop::store::due::refresh_fixtures;
use anglestop::store::{buildings, fixtures, rooms, tags, units};

use super::house::{house, noon, of_kind, refusal};
use crate::support::on_both;

#[test]
fn a_unit_gets_its_place_in_the_first_interval_when_it_is_made_and_keeps_it() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let read = || {
            fleet
                .db
                .read(|conn| units::by_key(conn, &Scope::All, house.unit))
                .unwrap()
                .1
        };
        let before = read();
        assert_eq!(before.spread_ppm, spread_of(house.unit));
        let text = UnitText {
            label: "205".to_owned(),
            floor: "2".to_owned(),
            riser: "3".to_owned(),
            ..UnitText::default()
        };
        change_unit::change(&fleet.db, &house.manager, noon("2025-03-01"), house.unit, &text).unwrap();
        let after = read();
        assert_eq!(after.facts.riser, Some(3));
        assert_eq!(after.spread_ppm, before.spread_ppm);
    });
}

#[test]
fn a_new_fixture_gets_the_next_free_tag_and_the_standard_parts_of_its_kind() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let (first, second) = (house.closet(), house.closet());
        assert_eq!(house.placed(first).tag.label, "WC-1");
        assert_eq!(house.placed(second).tag.label, "WC-2");
        assert_eq!(house.placed(second).room.unwrap().name, "Hall bath");
        let kinds: Vec<_> = house.parts(first).iter().map(|part| part.facts.kind).collect();
        assert_eq!(
            kinds,
            house.fixture(first).facts.kind.standard_parts(),
            "in the order of the trade's list"
        );
        assert!(
            house
                .parts(first)
                .iter()
                .all(|part| part.facts.installed.is_estimated()),
            "older than the register, so the parts' age is an estimate"
        );
        assert!(
            house.count(&format!(
                "SELECT count(*) AS count FROM due_items WHERE fixture_id = {first}"
            )) > 0,
            "its checks come due in the same transaction"
        );
    });
}

#[test]
fn one_fixture_is_in_service_at_a_place() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        house.closet();
        let again = AddFixture {
            tag: "wc-1".to_owned(),
            ..of_kind("water_closet", "")
        };
        let said = refusal(house.add("2025-03-01", &again), "tag");
        assert!(
            said.contains("is in service at WC-1") && said.contains("WC-2"),
            "{said}"
        );
        assert_eq!(house.count("SELECT count(*) AS count FROM fixtures"), 1);
    });
}

#[test]
fn a_fixture_counts_from_the_day_the_building_joined_or_it_was_installed() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.closet();
        assert_eq!(house.fixture(old).stood_from.to_string(), "2025-01-01");
        let new = house
            .add("2025-06-10", &of_kind("lavatory", "2025-06-01"))
            .unwrap();
        assert_eq!(house.fixture(new).stood_from.to_string(), "2025-06-01");
        assert!(
            house
                .parts(new)
                .iter()
                .all(|part| part.facts.installed == house.fixture(new).facts.installed),
            "installed while in the register, so its parts are as old as it"
        );
    });
}

#[test]
fn a_replacement_takes_the_place_and_leaves_the_history_there() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.closet();
        let command = ReplaceFixture {
            on: "2025-05-20".to_owned(),
            ..ReplaceFixture::default()
        };
        let new =
            replace_fixture::replace(&fleet.db, &house.manager, noon("2025-05-21"), old, &command).unwrap();
        let (was, is) = (house.fixture(old), house.fixture(new));
        assert_eq!(
            (was.status, was.stood_until),
            (Service::Replaced, Some(is.stood_from))
        );
        assert_eq!((is.tag, is.replaces), (was.tag, Some(old)));
        assert_eq!(is.facts.installed, Installed::On(is.stood_from));
        assert!(house.parts(old).is_empty(), "its parts left with it");
        assert!(
            house
                .parts(new)
                .iter()
                .all(|part| part.stood_from == is.stood_from)
        );
        let history = fleet.db.read(|conn| fixtures::history_of(conn, is.tag)).unwrap();
        assert_eq!(history.iter().map(|one| one.id).collect::<Vec<_>>(), [new, old]);
        let due = |id| {
            house.count(&format!(
                "SELECT count(*) AS count FROM due_items WHERE fixture_id = {id}"
            ))
        };
        assert_eq!(due(old), 0, "nothing comes due on what is gone");
        assert!(due(new) > 0);
        let again = replace_fixture::replace(&fleet.db, &house.manager, noon("2025-05-21"), old, &command);
        assert!(matches!(again, Err(Error::Conflict(_))), "it is gone already");
    });
}

#[test]
fn a_change_takes_place_neither_in_the_future_nor_before_the_fixture_came() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.closet();
        for (on, part_of_sentence) in [
            ("2025-05-22", "in the future"),
            ("2024-12-31", "2025-01-01"),
            ("soon", "not a date"),
        ] {
            let command = RetireFixture {
                on: on.to_owned(),
                ..RetireFixture::default()
            };
            let answer = retire_fixture::retire(&fleet.db, &house.manager, noon("2025-05-21"), old, &command);
            let said = refusal(answer, "on");
            assert!(said.contains(part_of_sentence), "{on}: {said}");
        }
        assert_eq!(house.fixture(old).status, Service::InService);
    });
}

#[test]
fn a_retired_fixtures_place_stands_empty_and_can_be_taken_again() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.closet();
        let command = RetireFixture {
            on: "2025-05-20".to_owned(),
            note: "bath was rebuilt".to_owned(),
        };
        retire_fixture::retire(&fleet.db, &house.manager, noon("2025-05-21"), old, &command).unwrap();
        assert!(house.fixture(old).facts.note.contains("bath was rebuilt"));
        assert_eq!(house.count("SELECT count(*) AS count FROM due_items"), 0);
        let again = AddFixture {
            tag: "WC-1".to_owned(),
            ..of_kind("water_closet", "2025-04-01")
        };
        let new = house.add("2025-06-01", &again).unwrap();
        assert_eq!(house.fixture(new).tag, house.fixture(old).tag);
        assert_eq!(
            house.fixture(new).stood_from.to_string(),
            "2025-05-20",
            "not before the one that stood there left"
        );
    });
}

#[test]
fn a_moved_fixture_ends_here_and_begins_there_with_its_parts_but_a_new_wax_seal() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let old = house.closet();
        let command = MoveFixture {
            building: "birch".to_owned(),
            unit: "1".to_owned(),
            room: "Bath".to_owned(),
            on: "2025-05-20".to_owned(),
            ..MoveFixture::default()
        };
        let new =
            move_fixture::relocate(&fleet.db, &house.manager, noon("2025-05-21"), old, &command).unwrap();
        let (was, placed) = (house.fixture(old), house.placed(new));
        assert_eq!(was.status, Service::Retired);
        assert!(was.facts.note.contains("Moved to BIRCH, unit 1, WC-1."));
        assert_eq!(placed.unit.id, house.neighbour);
        assert_eq!(placed.fixture.facts.installed, was.facts.installed);
        assert!(
            placed
                .fixture
                .facts
                .note
                .contains("Moved here from ALDER, unit 204, WC-1.")
        );
        for part in house.parts(new) {
            let day = part.facts.installed.date().unwrap().to_string();
            let wanted = match part.facts.kind {
                PartKind::WaxSeal => "2025-05-20",
                _ => "2010-05-06",
            };
            assert_eq!(day, wanted, "{}", part.facts.kind);
        }
        assert!(house.parts(old).is_empty());
        let nowhere = MoveFixture {
            unit: "99".to_owned(),
            ..MoveFixture::default()
        };
        let answer = move_fixture::relocate(&fleet.db, &house.manager, noon("2025-05-21"), new, &nowhere);
        assert!(refusal(answer, "unit").contains("BIRCH has no unit “99”"));
    });
}

#[test]
fn a_renamed_tag_keeps_its_history_and_two_places_never_share_a_label() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let (first, second) = (house.closet(), house.closet());
        let form = |tag: &str| TagForm {
            tag: tag.to_owned(),
            room: "Primary bath".to_owned(),
        };
        let place = house.fixture(first).tag;
        change_tag::change(
            &fleet.db,
            &house.manager,
            noon("2025-03-01"),
            first,
            &form("wc-7"),
        )
        .unwrap();
        let placed = house.placed(first);
        assert_eq!((placed.tag.id, placed.tag.label.as_str()), (place, "WC-7"));
        assert_eq!(placed.room.unwrap().name, "Primary bath");
        let answer = change_tag::change(
            &fleet.db,
            &house.manager,
            noon("2025-03-01"),
            second,
            &form("WC-7"),
        );
        assert!(refusal(answer, "tag").contains("WC-8"));
        let free = fleet
            .db
            .read(|conn| tags::next_free_label(conn, house.unit, house.fixture(first).facts.kind))
            .unwrap();
        assert_eq!(free, "WC-8");
    });
}

#[test]
fn a_technician_changes_what_a_fixture_is_and_neither_kind_nor_place() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let (id, now) = (house.closet(), noon("2025-03-01"));
        let text = FixtureText {
            kind: "water_closet".to_owned(),
            maker: "Harrow".to_owned(),
            model: "T-2".to_owned(),
            installed_on: "2012".to_owned(),
            ..FixtureText::default()
        };
        let change = |text: FixtureText, place| {
            let command = ChangeFixture { text, place };
            change_fixture::change(&fleet.db, &house.technician, now, id, &command)
        };
        change(text.clone(), None).unwrap();
        let facts = house.fixture(id).facts;
        assert_eq!(
            (facts.maker.as_str(), facts.installed.is_estimated()),
            ("Harrow", true)
        );
        let other_kind = FixtureText {
            kind: "urinal".to_owned(),
            ..text.clone()
        };
        assert!(matches!(change(other_kind, None), Err(Error::Forbidden(_))));
        let place = TagForm {
            tag: "WC-9".to_owned(),
            room: String::new(),
        };
        assert!(matches!(change(text, Some(place)), Err(Error::Forbidden(_))));
        let retire = retire_fixture::retire(&fleet.db, &house.technician, now, id, &RetireFixture::default());
        assert!(matches!(retire, Err(Error::Forbidden(_))));
    });
}

#[test]
fn another_buildings_fixture_is_not_there_for_a_technician() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let command = MoveFixture {
            building: "BIRCH".to_owned(),
            unit: "1".to_owned(),
            ..MoveFixture::default()
        };
        let id = move_fixture::relocate(
            &fleet.db,
            &house.manager,
            noon("2025-05-21"),
            house.closet(),
            &command,
        )
        .unwrap();
        let text = FixtureText {
            kind: "water_closet".to_owned(),
            ..FixtureText::default()
        };
        let command = ChangeFixture { text, place: None };
        let answer = change_fixture::change(&fleet.db, &house.technician, noon("2025-05-22"), id, &command);
        assert!(matches!(answer, Err(Error::NotFound(_))));
    });
}

#[test]
fn rooms_trade_names_and_order_in_one_step() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let add = |name: &str| add_room::add(&fleet.db, &house.manager, noon("2025-03-01"), house.unit, name);
        let (bath, kitchen) = (add("Bath").unwrap(), add("Kitchen").unwrap());
        assert!(refusal(add("bath"), "room").contains("“Bath” already"));
        let line = |room, name: &str, order: &str| arrange_rooms::Line {
            room,
            name: name.to_owned(),
            order: order.to_owned(),
        };
        let arrange = |lines: &[arrange_rooms::Line]| {
            arrange_rooms::arrange(&fleet.db, &house.manager, noon("2025-03-01"), house.unit, lines)
        };
        arrange(&[line(bath, "Kitchen", "2"), line(kitchen, "Bath", "1")]).unwrap();
        let names = || -> Vec<_> {
            let rooms = fleet.db.read(|conn| rooms::of_unit(conn, house.unit)).unwrap();
            rooms.into_iter().map(|room| (room.id, room.name)).collect()
        };
        assert_eq!(
            names(),
            [(kitchen, "Bath".to_owned()), (bath, "Kitchen".to_owned())]
        );
        let same = arrange(&[line(bath, "Bath", "1"), line(kitchen, "Bath", "2")]);
        assert!(refusal(same, &format!("name-{bath}")).contains("Two rooms"));
        assert_eq!(names().len(), 2);
    });
}

#[test]
fn one_household_lives_in_a_unit_at_a_time_and_its_leaving_makes_it_vacant() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let text = |name: &str, from: &str| HouseholdText {
            name: name.to_owned(),
            moved_in_on: from.to_owned(),
            ..HouseholdText::default()
        };
        let add = |text: HouseholdText| {
            add_household::add(&fleet.db, &house.manager, noon("2025-06-01"), house.unit, &text)
        };
        let first = add(text("Okafor", "2025-02-01")).unwrap();
        assert!(
            refusal(add(text("Lindqvist", "2025-07-01")), "moved_in_on")
                .contains("Okafor lives there since 2025-02-01")
        );
        let occupancy = || {
            fleet
                .db
                .read(|conn| units::by_key(conn, &Scope::All, house.unit))
                .unwrap()
                .1
                .facts
                .occupancy
        };
        let leave = |on: &str| move_out::leave(&fleet.db, &house.manager, noon("2025-06-01"), first, on);
        assert!(refusal(leave("2025-01-31"), "moved_out_on").contains("before the move-in"));
        leave("2025-06-30").unwrap();
        assert_eq!(occupancy(), Occupancy::Occupied, "they still live there today");
        add(text("Lindqvist", "2025-07-01")).unwrap();
        assert!(refusal(leave("2025-07-02"), "moved_out_on").contains("2025-07-01"));
        leave("2025-06-01").unwrap();
        assert_eq!(occupancy(), Occupancy::Vacant);
        let trail = house.count("SELECT count(*) AS count FROM audit WHERE coalesce(before_json, '') LIKE '%Okafor%' OR coalesce(after_json, '') LIKE '%Okafor%'");
        assert_eq!(
            trail, 0,
            "the audit trail outlives the household, so it does not name it"
        );
    });
}

#[test]
fn a_unit_gets_into_turnover_by_opening_one_only() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let text = UnitText {
            label: "204".to_owned(),
            occupancy: "turnover".to_owned(),
            ..UnitText::default()
        };
        let answer = change_unit::change(&fleet.db, &house.manager, noon("2025-03-01"), house.unit, &text);
        assert!(refusal(answer, "occupancy").contains("Start turnover"));
        let answer = add_unit::add(&fleet.db, &house.manager, noon("2025-03-01"), house.alder, &text);
        assert!(refusal(answer, "occupancy").contains("Choose vacant"));
    });
}

#[test]
fn a_buildings_code_is_free_and_named_by_no_schedule_when_it_changes() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let form = |code: &str, joined: &str| BuildingForm {
            portfolio: "NORTH".to_owned(),
            technician: "rosa@office.example".to_owned(),
            text: BuildingText {
                code: code.to_owned(),
                name: "Alder House".to_owned(),
                time_zone: "America/Chicago".to_owned(),
                joined_on: joined.to_owned(),
                ..BuildingText::default()
            },
        };
        let change = |code: &str, joined: &str| {
            change_building::change(
                &fleet.db,
                &house.manager,
                noon("2025-03-01"),
                house.alder,
                &form(code, joined),
            )
        };
        assert!(refusal(change("birch", "2025-01-01"), "code").contains("BIRCH is there already"));
        fleet
            .db
            .write(|tx| {
                use diesel::RunQueryDsl as _;
                diesel::sql_query("UPDATE schedules SET scope_buildings = 'ALDER' WHERE id = (SELECT min(id) FROM schedules)")
                    .execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        assert!(refusal(change("ELDER", "2025-01-01"), "code").contains("names building ALDER"));
        let closet = house.closet();
        let first_due = || {
            house.count(&format!(
                "SELECT count(*) AS count FROM due_items WHERE fixture_id = {closet} AND due < '2025-09-01'"
            ))
        };
        assert!(first_due() > 0);
        change("ALDER", "2025-09-01").unwrap();
        assert_eq!(first_due(), 0, "nothing falls due before the building joined");
        let taken = add_building::add(&fleet.db, &house.manager, noon("2025-03-01"), &form("alder", ""));
        assert!(refusal(taken, "code").contains("ALDER is there already"));
        let named = fleet
            .db
            .read(|conn| buildings::by_code(conn, &Scope::All, "ALDER"))
            .unwrap();
        assert!(named.technician.is_some());
    });
}

#[test]
fn every_change_of_the_register_leaves_the_due_rows_as_a_fresh_computation_has_them() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let closet = house.closet();
        house
            .add("2025-06-10", &of_kind("lavatory", "2025-06-01"))
            .unwrap();
        replace_fixture::replace(
            &fleet.db,
            &house.manager,
            noon("2025-07-01"),
            closet,
            &ReplaceFixture::default(),
        )
        .unwrap();
        let sum = || house.count("SELECT count(*) AS count FROM due_items");
        let before = sum();
        let keys = fleet
            .db
            .read(|conn| fixtures::keys_in_unit(conn, house.unit))
            .unwrap();
        fleet.db.write(|tx| refresh_fixtures(tx, &keys)).unwrap();
        assert_eq!(sum(), before);
    });
}
