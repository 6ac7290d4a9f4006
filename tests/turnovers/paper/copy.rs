//! The household's copy: what it has, and what it leaves out.

use std::collections::BTreeSet;

use anglestop::domain::turnover::Item;
use anglestop::store::document_forms::Form;
use scraper::{Html, Selector};

use super::{NOTE, SIGNED, closed, form, pages, spaced, sql};
use crate::results::stage::noon;
use crate::support::on_both;
use crate::support::server::Server;
use crate::turnovers::stage::MOVE_IN;

#[test]
fn each_check_stands_in_the_copy_once_as_it_was_last_seen() {
    on_both(|fleet| {
        let (flat, id) = closed(&fleet.db);
        let html = String::from_utf8(form(&fleet.db, id, Form::Copy)).unwrap();
        let page = Html::parse_document(&html);
        let (rows, head) = (
            Selector::parse("tbody tr").unwrap(),
            Selector::parse("th").unwrap(),
        );
        let heads: Vec<String> = page
            .select(&rows)
            .map(|row| {
                spaced(
                    &row.select(&head)
                        .flat_map(|cell| cell.text())
                        .collect::<Vec<_>>()
                        .join(" "),
                )
            })
            .collect();
        let list = flat.survey(id, MOVE_IN).list;
        let named = |item: &Item| {
            let kind = list.places[item.place].kind.map_or("", |kind| kind.name());
            spaced(&format!("{} {kind}", list.name(item)))
        };
        let names: BTreeSet<String> = list.items.iter().map(named).collect();
        assert_eq!(heads.len(), names.len());
        assert_eq!(heads.into_iter().collect::<BTreeSet<_>>(), names);
        let all = pages(&form(&fleet.db, id, Form::CopyPdf)).join(" ");
        for name in &names {
            assert!(all.contains(name), "{name}");
        }
        // Loose as found, right before ready: the household reads how it is.
        let seat = names
            .iter()
            .find(|name| name.contains("WC-1") && name.to_lowercase().contains("seat"))
            .unwrap();
        assert!(all.contains(&format!("{seat} Pass: ")), "{seat} in {all}");
    });
}

#[test]
fn the_copy_has_lines_to_sign_and_defers_to_local_law_and_has_nothing_that_is_the_offices() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        let html = String::from_utf8(form(&fleet.db, id, Form::Copy)).unwrap();
        let all = pages(&form(&fleet.db, id, Form::CopyPdf)).join(" ");
        let text = spaced(
            &Html::parse_document(&html)
                .root_element()
                .text()
                .collect::<Vec<_>>()
                .join(" "),
        );
        for copy in [&text, &all] {
            for words in [
                "For the household: name, signature and day",
                "For the office: name, signature and day",
                "is a matter of local law, which goes before this copy",
                "Local codes and licensed practice decide.",
                "by the office, last on Tue 10 Feb 2026",
                "Could not be checked",
                "Smell gas? Leave now",
            ] {
                assert!(copy.contains(words), "{words} in {copy}");
            }
            for theirs in [
                NOTE,
                SIGNED,
                "Rosa",
                "Vance",
                "Ola Brandt",
                "Water is off",
                "Asked:",
                "Waived",
                "cost",
            ] {
                assert!(!copy.contains(theirs), "{theirs} in {copy}");
            }
        }
    });
}

#[test]
fn what_is_wrong_at_the_move_in_stands_in_the_copy_without_cost_or_vendor() {
    on_both(|fleet| {
        let flat = crate::turnovers::stage::flat(&fleet.db);
        let id = flat.ready();
        let report = anglestop::actions::deficiencies::Report {
            unit: flat.small.unit,
            title: "Window of the bath sticks".to_owned(),
            severity: Some(anglestop::domain::trade::Severity::Low),
            tag: None,
            detail: String::new(),
        };
        anglestop::actions::deficiencies::report(&fleet.db, &flat.small.manager, noon("2026-02-06"), &report)
            .unwrap();
        sql(
            &fleet.db,
            "UPDATE deficiencies SET vendor = 'Kettle Glazing', cost_minor = 98765",
        );
        sql(
            &fleet.db,
            "INSERT INTO deficiency_events (deficiency_id, at, kind, text) VALUES (1, '2026-02-07 12:00:00', 'missed', 'Glazier comes later')",
        );
        flat.pass(id, MOVE_IN, anglestop::domain::trade::TurnoverStage::MoveIn);
        flat.close(id, MOVE_IN).unwrap();
        let all = pages(&form(&fleet.db, id, Form::CopyPdf)).join(" ");
        assert!(
            all.contains("Not right yet") && all.contains("Window of the bath sticks"),
            "{all}"
        );
        for theirs in ["Kettle", "987.65", "98765", "Glazier"] {
            assert!(!all.contains(theirs), "{theirs} in {all}");
        }
    });
}

#[test]
fn the_pages_give_every_form_byte_for_byte_to_staff_and_nobody_else() {
    on_both(|fleet| {
        let (_, id) = closed(&fleet.db);
        let server = Server::start(&fleet.db, "2026-02-11T18:00:00");
        let manager = server.signed_in("manager");
        let page = manager.get(&format!("/turnovers/{id}")).body;
        let list = manager.get("/turnovers?show=over").body;
        assert!(list.contains(&format!("/turnovers/{id}/paper.pdf")));
        for (address, of, media) in [
            ("paper.pdf", Form::Pdf, "application/pdf"),
            ("copy", Form::Copy, "text/html; charset=utf-8"),
            ("copy.pdf", Form::CopyPdf, "application/pdf"),
        ] {
            let address = format!("/turnovers/{id}/{address}");
            assert!(page.contains(&format!("href=\"{address}\"")), "{page}");
            let answer = manager.get(&address);
            assert_eq!(answer.status, 200);
            assert_eq!(answer.bytes, form(&fleet.db, id, of));
            assert_eq!(answer.headers.get("content-type").unwrap(), media);
            let how = answer
                .headers
                .get("content-disposition")
                .unwrap()
                .to_str()
                .unwrap();
            assert_eq!(
                how.starts_with("attachment; filename=\"turnover-alder-1"),
                media == "application/pdf",
                "{how}"
            );
            let policy = answer
                .headers
                .get("content-security-policy")
                .unwrap()
                .to_str()
                .unwrap();
            assert!(policy.starts_with("default-src 'none'"), "{policy}");
        }
        assert!(page.contains(&anglestop::store::documents::sha256_of(&form(
            &fleet.db,
            id,
            Form::Manifest
        ))));
    });
}
