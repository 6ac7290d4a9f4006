//! Nothing of the people who live in a unit, of keys, of hours or of cost lies on the phone: its whole store is dumped and searched.

use anglestop::store::households;

use super::Office;
use super::thumb::Thumb;
use crate::support::sqlite;

#[test]
fn the_phone_holds_no_resident_no_access_code_and_no_cost() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 24);
    let secrets = office.plant();
    let phone = Thumb::in_hand(&office);
    phone.enter(&office.label);
    for _ in 0..6 {
        phone.step();
    }
    phone.open("/today");
    phone.until("return document.body.innerText.includes('How to get in')");
    let dump = phone.dump();
    assert!(
        dump.contains("wc_"),
        "the checklist is there:\n{}",
        &dump[..400.min(dump.len())]
    );
    for secret in secrets {
        assert!(!dump.contains(&secret), "“{secret}” lies on the phone");
    }
    let all = fleet
        .db
        .read(|conn| {
            let rentals = anglestop::store::units::rentals(conn)?;
            let mut names = Vec::new();
            for unit in rentals {
                names.extend(
                    households::of_unit(conn, unit)?
                        .into_iter()
                        .map(|one| one.facts.name),
                );
            }
            Ok(names)
        })
        .unwrap();
    assert!(!all.is_empty());
    for name in all {
        assert!(!dump.contains(&name), "the resident {name} is named on the phone");
    }
}
