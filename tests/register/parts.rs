//! Parts with ages of their own.

use anglestop::actions::register::{add_part, change_part, replace_part, retire_part};
use anglestop::domain::register::{Installed, PartText, Service};
use anglestop::domain::trade::PartKind;
use anglestop::error::Error;
use anglestop::store::parts;

use super::house::{House, house, noon, refusal};
use crate::support::on_both;

fn text(kind: &str, installed_on: &str) -> PartText {
    PartText {
        kind: kind.to_owned(),
        installed_on: installed_on.to_owned(),
        ..PartText::default()
    }
}

#[test]
fn a_replaced_part_counts_from_the_day_of_its_replacement() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let closet = house.closet();
        let old = house.part(closet, PartKind::Flapper);
        let new = replace_part::replace(
            &fleet.db,
            &house.technician,
            noon("2025-05-21"),
            old,
            "2025-05-20",
        )
        .unwrap();
        let all = fleet.db.read(|conn| parts::of_fixture(conn, closet)).unwrap();
        let find = |id| all.iter().find(|part| part.id == id).unwrap();
        assert_eq!(find(old).status, Service::Replaced);
        assert_eq!(find(old).stood_until, Some(find(new).stood_from));
        assert_eq!(find(new).facts.installed, Installed::On(find(new).stood_from));
        let again = replace_part::replace(&fleet.db, &house.technician, noon("2025-05-21"), old, "");
        assert!(matches!(again, Err(Error::Conflict(_))));
    });
}

#[test]
fn a_fixture_has_one_part_in_service_of_each_kind() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let closet = house.closet();
        let add = |kind: &str, on: &str| {
            add_part::add(
                &fleet.db,
                &house.technician,
                noon("2025-05-21"),
                closet,
                &text(kind, on),
            )
        };
        assert!(refusal(add("wax_seal", ""), "kind").contains("Replace that one"));
        assert!(refusal(add("knob", ""), "kind").contains("is not a part"));
        assert!(refusal(add("", ""), "kind").contains("Choose which part"));
        add("seat", "2019-05").unwrap();
        let seat = house.part(closet, PartKind::Seat);
        let part = house
            .parts(closet)
            .into_iter()
            .find(|part| part.id == seat)
            .unwrap();
        assert_eq!(part.facts.installed.date().unwrap().to_string(), "2019-05-15");
        assert!(part.facts.installed.is_estimated());
    });
}

#[test]
fn a_retired_part_no_longer_comes_due() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let closet = house.closet();
        let due = |house: &House| {
            house.count(&format!(
                "SELECT count(*) AS count FROM due_items WHERE fixture_id = {closet} AND part = 'supply_line'"
            ))
        };
        assert!(due(&house) > 0);
        let line = house.part(closet, PartKind::SupplyLine);
        retire_part::retire(&fleet.db, &house.technician, noon("2025-05-21"), line, "").unwrap();
        assert_eq!(due(&house), 0);
    });
}

#[test]
fn the_age_of_a_part_is_corrected_but_never_into_the_future() {
    on_both(|fleet| {
        let house = house(&fleet.db);
        let line = house.part(house.closet(), PartKind::SupplyLine);
        let change = |on: &str| {
            change_part::change(
                &fleet.db,
                &house.technician,
                noon("2025-05-21"),
                line,
                &text("", on),
            )
        };
        assert!(refusal(change("2025-05-22"), "installed_on").contains("in the future"));
        change("2024-11-30").unwrap();
        let fixture = house.fixture(anglestop::domain::register::FixtureId(1)).id;
        let part = house
            .parts(fixture)
            .into_iter()
            .find(|part| part.id == line)
            .unwrap();
        assert_eq!(part.facts.installed.date().unwrap().to_string(), "2024-11-30");
        assert_eq!(part.stood_from.to_string(), "2025-01-01");
    });
}
