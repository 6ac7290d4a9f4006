//! What the owner sees, takes home and is refused, over plain requests.

use std::collections::BTreeMap;

use super::super::form::{Form, link, text_of, texts};
use super::{SEED, by_name, sum};
use crate::support::server::Browser;

const CONDITION: &str = "/condition/ALDER.csv?as_of=2026-12-10";

/// The owner's file has a row for each fixture of the spreadsheet.
pub fn read_the_condition(owner: &Browser) {
    assert_eq!(owner.get("/").location, "/condition");
    let page = owner.get("/condition");
    assert_eq!(texts(&page.page(), "section h2"), ["Alder Court", "Birch Row"]);
    let building = owner.get(&link(&page, "Alder Court"));
    assert_eq!(link(&building, "Download CSV"), CONDITION);
    let file = |address: &str| owner.get(address).body;
    for day in ["", "?as_of=2026-12-10", "?as_of=2026-06-01"] {
        let every = file(&format!("/condition.csv{day}"));
        let (names, rows) = every.split_once("\r\n").unwrap();
        let each = ["ALDER", "BIRCH"].map(|code| file(&format!("/condition/{code}.csv{day}")));
        let of_each = each.map(|one| one.strip_prefix(names).unwrap().trim_start().to_owned());
        assert!(!rows.is_empty());
        assert_eq!(
            rows,
            of_each.concat(),
            "every building's rows and no other's, by code"
        );
        let joint = if day.is_empty() { '?' } else { '&' };
        assert_eq!(
            file(&format!("/condition.csv{day}{joint}portfolio=harbor")),
            every
        );
    }
    let rows = by_name(&owner.get(CONDITION).body);
    let place = |row: &BTreeMap<String, String>| (row["unit"].clone(), row["tag"].clone());
    let mut standing: Vec<_> = rows.iter().map(place).collect();
    let seed = by_name(std::str::from_utf8(SEED).unwrap());
    let mut planned: Vec<_> = seed
        .iter()
        .filter(|row| row["building"] == "ALDER" && !row["tag"].is_empty())
        .map(place)
        .collect();
    standing.sort();
    planned.sort();
    assert_eq!(standing, planned);
    let of = |unit: &str, tag: &str| {
        let at = (unit.to_owned(), tag.to_owned());
        rows.iter().find(|row| place(row) == at).unwrap()
    };
    let closet = of("101", "WC-1");
    assert_eq!(
        (closet["last_done"].as_str(), closet["last_outcome"].as_str()),
        ("2026-11-27", "fail")
    );
    assert_eq!(
        (closet["open_severe"].as_str(), closet["days_over"].as_str()),
        ("0", "0")
    );
    let turned = of("201", "WC-1");
    assert_eq!(
        (turned["last_done"].as_str(), turned["last_outcome"].as_str()),
        ("2026-12-10", "pass")
    );
    assert_eq!(turned["condition"], "sound", "{}", turned["reason"]);
}

/// A numbered copy: where it is, and its bytes.
pub fn issue(owner: &Browser) -> (String, String) {
    let (_, page) = Form::at(owner, "/condition/ALDER", "/issue").sent(owner);
    assert_eq!(text_of(&page, ".flash"), "Copy no. 1 issued. It will not change.");
    let address = link(&page, "No. 1");
    let copy = owner.get(&address).body;
    assert_eq!(text_of(&page, ".fingerprint"), sum(&copy));
    (address, copy)
}

/// Something happens after the copy was issued.
pub fn note_a_leak(technician: &Browser) {
    let list = technician.get("/due?building=ALDER&unit=201&state=all&check=wc_flushes");
    let fixture = link(&list, "Record").split('?').next().unwrap().to_owned();
    let one = format!("{fixture}?check=wc_tank_bowl_dry");
    let form = Form::at(technician, &one, "/record");
    let number = form.values("ask")[0].split(' ').next().unwrap().to_owned();
    let page = technician.get(&one);
    let fields = [
        ("csrf", page.csrf()),
        ("screen", "one".to_owned()),
        ("ask", form.values("ask")[0].to_owned()),
        (&format!("outcome-{number}"), "fail".to_owned()),
    ];
    let fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (*name, value.as_str()))
        .collect();
    assert_eq!(technician.send(&fixture, &fields).status, 303);
}

pub fn the_copy_stays(owner: &Browser, (address, copy): (String, String)) {
    let now = owner.get(CONDITION).body;
    let rows = by_name(&now);
    let turned = rows
        .iter()
        .find(|row| row["unit"] == "201" && row["tag"] == "WC-1")
        .unwrap();
    assert_eq!(turned["condition"], "repair", "{}", turned["reason"]);
    assert_ne!(now, copy);
    assert_eq!(
        owner.get(&address).body,
        copy,
        "the copy is the same byte for byte"
    );
}

/// Another's building is not there for this owner, nor is what the office alone does.
pub fn refuse_the_neighbour(owner: &Browser, manager: &Browser) {
    let (_, page) = Form::at(manager, "/condition/TILIA", "/issue").sent(manager);
    let paper = link(&page, "No. 1");
    assert_eq!(manager.get(&paper).status, 200);
    for address in [
        "/condition/TILIA",
        "/condition/TILIA.csv",
        "/condition.csv?portfolio=LINDEN",
        &paper,
    ] {
        let refused = owner.get(address);
        assert_eq!(refused.status, 404, "{address}");
        assert!(!refused.body.contains("Tilia"), "{address}");
    }
    let token = owner.get("/condition/ALDER").csrf();
    let issued = owner.send("/condition/TILIA/issue", &[("csrf", &token)]);
    assert_eq!(issued.status, 404);
    for address in [
        "/due",
        "/buildings/ALDER",
        "/turnovers",
        "/deficiencies",
        "/people",
    ] {
        assert_eq!(owner.get(address).status, 403, "{address}");
    }
}
