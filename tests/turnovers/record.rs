//! The signed record: its bytes, its sum, and that nothing changes it.

use anglestop::domain::register::person::Scope;
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::TurnoverStage;
use anglestop::domain::turnover::Stage;
use anglestop::error::Error;
use anglestop::store::documents;
use diesel::RunQueryDsl as _;
use sha2::{Digest as _, Sha256};

use super::stage::{Flat, MOVE_IN, OPENED, flat, refused};
use crate::results::stage::of;
use crate::support::on_both;

fn closed(flat: &Flat) -> (anglestop::domain::register::TurnoverId, documents::Document) {
    let id = flat.ready();
    flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
    (id, flat.close(id, MOVE_IN).unwrap())
}

fn bytes(flat: &Flat, document: &documents::Document) -> Vec<u8> {
    flat.db().read(|conn| documents::bytes(conn, document)).unwrap()
}

#[test]
fn closing_keeps_a_signed_record_whose_sum_matches_its_bytes_and_which_never_changes() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (id, paper) = closed(&flat);
        let first = bytes(&flat, &paper);
        let sum: String = Sha256::digest(&first)
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        assert_eq!(paper.sha256, sum);
        assert_eq!(
            (paper.number, paper.file_name.as_str()),
            (1, "turnover-alder-1.html")
        );
        assert_eq!(flat.survey(id, MOVE_IN).turnover.stage, Stage::MovedIn);
        // The world goes on: the paper does not.
        let seat = of(flat.closet, "wc_seat", Outcome::Fail);
        flat.small.answer("2026-03-01", seat).unwrap();
        assert_eq!(bytes(&flat, &paper), first);
        // The same signature again is the same record.
        assert_eq!(flat.close(id, "2026-03-02").unwrap(), paper);
        assert_eq!(flat.small.count("documents"), 1);
        // The next turnover of the building has the next number.
        let next = flat.open_at(flat.small.unit, "2026-06-01", "2026-06-08").unwrap();
        for stage in [TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn] {
            flat.pass(next, "2026-06-02", stage);
        }
        flat.step(next, "2026-06-02").unwrap();
        flat.step(next, "2026-06-02").unwrap();
        assert_eq!(flat.close(next, "2026-06-08").unwrap().number, 2);
    });
}

#[test]
fn the_record_says_each_item_once_with_answer_who_and_when_and_nothing_of_the_residents() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let text = anglestop::domain::register::HouseholdText {
            name: "Household Quillfeather".to_owned(),
            moved_in_on: "2025-06-01".to_owned(),
            ..Default::default()
        };
        let manager = &flat.small.manager;
        let now = crate::results::stage::noon("2025-06-01");
        anglestop::actions::register::add_household::add(flat.db(), manager, now, flat.small.unit, &text)
            .unwrap();
        let (id, paper) = closed(&flat);
        let page = String::from_utf8(bytes(&flat, &paper)).unwrap();
        let page = scraper::Html::parse_document(&page);
        let rows = scraper::Selector::parse("tbody tr").unwrap();
        let heads = scraper::Selector::parse("th").unwrap();
        let said: Vec<String> = page
            .select(&rows)
            .map(|row| {
                row.select(&heads)
                    .next()
                    .unwrap()
                    .text()
                    .next()
                    .unwrap()
                    .to_owned()
            })
            .collect();
        let list = flat.survey(id, MOVE_IN).list;
        for item in &list.items {
            let name = list.name(item);
            let times = list.items.iter().filter(|other| list.name(other) == name).count();
            assert_eq!(said.iter().filter(|head| **head == name).count(), times, "{name}");
        }
        let all: String = page.root_element().text().collect();
        assert!(!all.contains("Quillfeather"));
        for words in [
            "Turnover record 1",
            "Alder House (ALDER), unit 204",
            "Rosa Vance",
            "Signed Tue 10 Feb 2026, 12:00",
            "10 s, at most 180 s",
            "Nothing is open.",
            "Smell gas? Leave now",
            "Local codes and licensed practice decide.",
        ] {
            assert!(all.contains(words), "{words} is not in {all}");
        }
    });
}

#[test]
fn a_closed_turnover_refuses_answers_steps_and_waivers() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (id, _) = closed(&flat);
        let late = flat.record(
            id,
            "2026-02-11",
            vec![(of(flat.closet, "wc_seat", Outcome::Fail), None)],
        );
        assert!(refused(late).contains("its record stays as it was signed"));
        assert!(refused(flat.step(id, "2026-02-11")).contains("is closed"));
        let number = anglestop::domain::register::DeficiencyId(1);
        assert!(refused(flat.waive(id, "2026-02-11", number, "2026-03-01")).contains("is closed"));
        assert_eq!(flat.small.count("deficiencies"), 0);
    });
}

#[test]
fn a_repeat_of_answers_changes_nothing_even_after_the_closing() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let id = flat.ready();
        let answer = of(flat.closet, "wc_paper_load", Outcome::Pass);
        let batch = || vec![(answer.clone(), None)];
        flat.record(id, MOVE_IN, batch()).unwrap();
        let rows = flat.small.count("results");
        assert_eq!(flat.record(id, MOVE_IN, batch()).unwrap().already, 1);
        flat.close(id, MOVE_IN).unwrap();
        assert_eq!(flat.record(id, MOVE_IN, batch()).unwrap().already, 1);
        assert_eq!(flat.small.count("results"), rows);
    });
}

#[test]
fn a_paper_that_somebody_altered_is_not_given_out() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (_, paper) = closed(&flat);
        flat.db()
            .write(|tx| {
                let zero = if matches!(&**tx, anglestop::store::AnyConnection::Sqlite(_)) {
                    "UPDATE documents SET bytes = x'00'"
                } else {
                    "UPDATE documents SET bytes = '\\x00'"
                };
                diesel::sql_query(zero).execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let read = flat.db().read(|conn| documents::bytes(conn, &paper));
        assert!(
            matches!(&read, Err(Error::Conflict(s)) if s.contains("SHA-256")),
            "{read:?}"
        );
    });
}

#[test]
fn another_scope_finds_no_paper() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        let (_, paper) = closed(&flat);
        let found = flat
            .db()
            .read(|conn| documents::find(conn, &Scope::Buildings([].into()), paper.id));
        assert!(matches!(found, Err(Error::NotFound(_))), "{found:?}");
        assert_eq!(OPENED, "2026-02-03");
    });
}
