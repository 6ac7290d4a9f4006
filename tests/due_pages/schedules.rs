//! What a manager does with schedules by page: look, choose a pack, add, look first, change, switch, copy.

use super::{NOW, manager};
use crate::support::on_both;
use crate::support::server::Server;

/// A schedule of one's own, as the form sends it, with some fields changed.
fn form<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let usual = [
        ("name", "Hoses twice a year"),
        ("code", "hoses_twice"),
        ("anchor", "last_done"),
        ("rule", "P6M"),
        ("lead_days", "21"),
        ("grace_days", "14"),
        ("checks", "washer_hose_sound"),
        ("active", "yes"),
    ];
    let mut fields: Vec<(&str, &str)> = usual
        .into_iter()
        .filter(|(name, _)| changed.iter().all(|(other, _)| other != name))
        .collect();
    fields.extend_from_slice(changed);
    fields
}

#[test]
fn the_yearly_pack_is_on_and_the_half_yearly_one_can_be_chosen() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let page = manager.get("/schedules");
        assert_eq!(page.status, 200);
        assert!(
            page.body.contains("One visit a year <span class=\"soft\">· on"),
            "{}",
            page.body
        );
        assert!(page.body.contains("Two visits a year <span class=\"soft\">· off"));
        assert!(page.body.contains("Every year, counted from the last time."));
        let chosen = manager.submit("/schedules", "/packs/half_yearly", &[("to", "on")]);
        assert_eq!((chosen.status, chosen.location.as_str()), (303, "/schedules"));
        let dropped = manager.submit("/schedules", "/packs/yearly", &[("to", "off")]);
        assert_eq!(dropped.status, 303);
        let page = manager.get("/schedules");
        assert!(page.body.contains("One visit a year <span class=\"soft\">· off"));
        assert!(page.body.contains("Two visits a year <span class=\"soft\">· on"));
        let unknown = manager.submit("/schedules", "/packs/weekly", &[("to", "on")]);
        assert_eq!(unknown.status, 404);
    });
}

#[test]
fn a_schedule_is_looked_at_before_it_is_stored_then_added_changed_and_switched() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let mut look = form(&[]);
        look.push(("look", "yes"));
        let seen = manager.submit("/schedules/new", "/schedules/new", &look);
        assert_eq!(seen.status, 200, "{}", seen.body);
        for words in [
            "Every 6 months",
            "Opens 21 days before",
            "Tue 25 May 2027",
            "Nothing is stored yet",
        ] {
            assert!(seen.body.contains(words), "{words}: {}", seen.body);
        }
        assert_eq!(manager.get("/schedules/hoses_twice").status, 404);
        let added = manager.submit("/schedules/new", "/schedules/new", &form(&[]));
        assert_eq!(
            (added.status, added.location.as_str()),
            (303, "/schedules/hoses_twice")
        );
        let edit = "/schedules/hoses_twice/edit";
        let changed = form(&[
            ("anchor", "calendar"),
            ("rule", "FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=1"),
            ("start", "2026-10-01"),
            ("version", "1"),
        ]);
        let answer = manager.submit(edit, edit, &changed);
        assert_eq!(answer.status, 303, "{}", answer.body);
        let page = manager.get("/schedules/hoses_twice");
        assert!(page.body.contains("Every year on 1 October"), "{}", page.body);
        let dates = scraper::Selector::parse(".dates li").unwrap();
        let first = page
            .page()
            .select(&dates)
            .next()
            .map(|date| date.text().collect::<String>());
        assert_eq!(first.as_deref(), Some("Fri 1 Oct 2027 in 310 days"));
        assert_eq!(page.page().select(&dates).count(), 12);
        let stale = form(&[("name", "Hoses in October"), ("version", "1")]);
        let again = manager.submit(edit, edit, &stale);
        assert_eq!(again.status, 409, "{}", again.body);
        let off = manager.submit(
            "/schedules/hoses_twice",
            "/schedules/hoses_twice/switch",
            &[("to", "off")],
        );
        assert_eq!(off.status, 303);
        assert!(
            manager
                .get("/schedules/hoses_twice")
                .body
                .contains("Off: it asks for nothing")
        );
    });
}

#[test]
fn a_form_that_can_t_be_used_comes_back_with_its_values_and_a_sentence_for_each_field() {
    let fleet = crate::support::sqlite();
    let server = Server::start(&fleet.db, NOW);
    let manager = manager(&fleet, &server);
    let cases: [(&[(&str, &str)], &str); 6] = [
        (
            &[("lead_days", "100"), ("grace_days", "90")],
            "make lead and grace together at most",
        ),
        (
            &[
                ("rule", "FREQ=HOURLY"),
                ("anchor", "calendar"),
                ("start", "2026-01-01"),
            ],
            "FREQ=HOURLY",
        ),
        (
            &[("rule", "FREQ=YEARLY"), ("anchor", "calendar")],
            "First day is empty",
        ),
        (&[("rule", "six months")], "six months"),
        (&[("scope_buildings", "NOWHERE")], "There is no building NOWHERE"),
        (&[("code", "Hoses twice")], "can&#39;t be a code"),
    ];
    for (changed, sentence) in cases {
        let answer = manager.submit("/schedules/new", "/schedules/new", &form(changed));
        assert_eq!(answer.status, 422, "{changed:?}");
        assert!(
            answer.body.to_lowercase().contains(&sentence.to_lowercase()),
            "{sentence}: {}",
            answer.body
        );
        let name = scraper::Selector::parse("#name").unwrap();
        let kept = answer.page();
        let kept = kept.select(&name).next().unwrap().attr("value");
        assert_eq!(kept, Some("Hoses twice a year"));
        let summary = scraper::Selector::parse(".error-summary a").unwrap();
        for link in answer.page().select(&summary) {
            let id = link.attr("href").unwrap().trim_start_matches('#').to_owned();
            assert!(answer.body.contains(&format!("id=\"{id}\"")), "no field {id}");
        }
    }
}

#[test]
fn a_copy_is_switched_off_and_leads_to_its_form() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let copied = manager.submit("/schedules/yearly_flush", "/schedules/yearly_flush/copy", &[]);
        assert_eq!(copied.location, "/schedules/yearly_flush_copy/edit");
        assert!(
            manager
                .get("/schedules/yearly_flush_copy")
                .body
                .contains("Off: it asks for nothing")
        );
    });
}
