//! What a manager does with schedules by page: look, choose a pack, add, look first, change, switch, copy.

use super::{NOW, manager};
use crate::support::on_both;
use crate::support::server::{Answer, Browser, Server};

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

/// Sends a form as it was looked at: first to see what it would do, then to confirm it.
fn confirmed(manager: &Browser, path: &str, fields: &[(&str, &str)]) -> Answer {
    let seen = manager.submit(path, path, fields);
    if seen.status != 200 {
        return seen;
    }
    let print = scraper::Selector::parse("button[name=confirmed]").unwrap();
    let page = seen.page();
    let print = page
        .select(&print)
        .next()
        .unwrap()
        .attr("value")
        .unwrap()
        .to_owned();
    let mut all = fields.to_vec();
    all.push(("confirmed", &print));
    manager.submit(path, path, &all)
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
        let asked = manager.submit("/schedules", "/packs/half_yearly", &[("to", "on")]);
        assert!(
            asked.status == 200 && asked.body.contains("Nothing is changed yet"),
            "{}",
            asked.body
        );
        assert!(
            manager
                .get("/schedules")
                .body
                .contains("Two visits a year <span class=\"soft\">· off")
        );
        let on = [("to", "on"), ("confirmed", "yes")];
        let chosen = manager.submit("/schedules", "/packs/half_yearly", &on);
        assert_eq!((chosen.status, chosen.location.as_str()), (303, "/schedules"));
        let dropped = manager.submit(
            "/schedules",
            "/packs/yearly",
            &[("to", "off"), ("confirmed", "yes")],
        );
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
        let seen = manager.submit("/schedules/new", "/schedules/new", &form(&[]));
        assert_eq!(seen.status, 200, "{}", seen.body);
        for words in [
            "Every 6 months",
            "Opens 21 days before",
            "Tue 25 May 2027",
            "Nothing is stored yet",
            "class=\"pic year\"",
            "Technicians needed",
        ] {
            assert!(seen.body.contains(words), "{words}: {}", seen.body);
        }
        assert_eq!(manager.get("/schedules/hoses_twice").status, 404);
        let other = form(&[("rule", "P3M"), ("confirmed", "0123")]);
        let unseen = manager.submit("/schedules/new", "/schedules/new", &other);
        assert_eq!(unseen.status, 200, "only what was looked at can be confirmed");
        assert_eq!(manager.get("/schedules/hoses_twice").status, 404);
        let added = confirmed(&manager, "/schedules/new", &form(&[]));
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
        let answer = confirmed(&manager, edit, &changed);
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
        let again = confirmed(&manager, edit, &stale);
        assert_eq!(again.status, 409, "{}", again.body);
        let off = manager.submit(
            "/schedules/hoses_twice",
            "/schedules/hoses_twice/switch",
            &[("to", "off"), ("confirmed", "yes")],
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
fn a_saying_and_the_other_fields_are_mended_in_one_pass_from_top_to_bottom() {
    let fleet = crate::support::sqlite();
    let server = Server::start(&fleet.db, NOW);
    let manager = manager(&fleet, &server);
    let typed = form(&[
        ("pattern", "nth_weekday"),
        ("name", ""),
        ("lead_days", "soon"),
        ("checks", ""),
    ]);
    let answer = manager.submit("/schedules/new", "/schedules/new", &typed);
    assert_eq!(answer.status, 422);
    let links = scraper::Selector::parse(".error-summary a").unwrap();
    let page = answer.page();
    let fields: Vec<&str> = page
        .select(&links)
        .map(|link| link.attr("href").unwrap())
        .collect();
    assert_eq!(fields, ["#name", "#nth", "#weekday", "#lead_days", "#checks"]);
    assert!(
        answer.body.contains("The weekday is not chosen. Choose one."),
        "{}",
        answer.body
    );
}

#[test]
fn a_code_left_empty_is_made_from_the_name_and_early_days_left_empty_follow_the_rule() {
    let fleet = crate::support::sqlite();
    let server = Server::start(&fleet.db, NOW);
    let manager = manager(&fleet, &server);
    let calendar = |rule: &'static str, version: &'static str| {
        form(&[
            ("code", ""),
            ("anchor", "calendar"),
            ("rule", rule),
            ("start", "2026-12-01"),
            ("lead_days", "7"),
            ("grace_days", "7"),
            ("version", version),
        ])
    };
    let added = confirmed(
        &manager,
        "/schedules/new",
        &calendar("FREQ=MONTHLY;INTERVAL=3", ""),
    );
    assert_eq!(added.location, "/schedules/hoses_twice_a_year", "{}", added.body);
    let page = "/schedules/hoses_twice_a_year";
    assert!(
        manager
            .get(page)
            .body
            .contains("A result counts from 45 days before")
    );
    let edit = "/schedules/hoses_twice_a_year/edit";
    let early = scraper::Selector::parse("#early_days").unwrap();
    let shown = manager.get(edit).page();
    assert_eq!(shown.select(&early).next().unwrap().attr("value"), Some(""));
    let changed = confirmed(&manager, edit, &calendar("FREQ=MONTHLY", "1"));
    assert_eq!(changed.status, 303, "{}", changed.body);
    assert!(
        manager
            .get(page)
            .body
            .contains("A result counts from 14 days before")
    );
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

#[test]
fn one_click_undoes_the_last_change_and_another_one_undoes_that() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        assert_eq!(confirmed(&manager, "/schedules/new", &form(&[])).status, 303);
        let page = "/schedules/hoses_twice";
        let undo = "/schedules/hoses_twice/undo";
        let built_in = "/schedules/yearly_flush";
        let never = manager.submit(built_in, "/schedules/yearly_flush/undo", &[("version", "1")]);
        assert_eq!(never.status, 422, "{}", never.body);
        let edit = "/schedules/hoses_twice/edit";
        let quarterly = form(&[("rule", "P3M"), ("version", "1")]);
        assert_eq!(confirmed(&manager, edit, &quarterly).status, 303);
        let changed = manager.get(page).body;
        assert!(
            changed.contains("Every 3 months") && changed.contains("Its rule before: Every 6 months"),
            "{changed}"
        );
        let stale = manager.submit(page, undo, &[("version", "1")]);
        assert_eq!(stale.status, 409, "{}", stale.body);
        for (version, rule) in [("2", "Every 6 months"), ("3", "Every 3 months")] {
            let undone = manager.submit(page, undo, &[("version", version)]);
            assert_eq!((undone.status, undone.location.as_str()), (303, page));
            let said = scraper::Selector::parse(".rule-said").unwrap();
            let now = manager.get(page);
            let said: String = now.page().select(&said).next().unwrap().text().collect();
            assert!(said.starts_with(rule), "{said}");
        }
    });
}

#[test]
fn one_click_undoes_the_adding_and_another_one_undoes_that() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        assert_eq!(confirmed(&manager, "/schedules/new", &form(&[])).status, 303);
        let (page, undo) = ("/schedules/hoses_twice", "/schedules/hoses_twice/undo");
        assert!(manager.get(page).body.contains("Undo the adding"));
        let undone = manager.submit(page, undo, &[("version", "1")]);
        assert_eq!(
            (undone.status, undone.location.as_str()),
            (303, page),
            "{}",
            undone.body
        );
        let off = manager.get(page).body;
        assert!(
            off.contains("Off: it asks for nothing") && off.contains("Switched off "),
            "{off}"
        );
        assert!(!off.contains("Its rule before"), "its rule is what it was: {off}");
        let again = manager.submit(page, undo, &[("version", "2")]);
        assert_eq!(again.status, 303, "{}", again.body);
        assert!(manager.get(page).body.contains("Switched on "));
    });
}

#[test]
fn lead_and_grace_left_empty_suit_every_pattern_and_a_new_schedule_is_on() {
    let fleet = crate::support::sqlite();
    let server = Server::start(&fleet.db, NOW);
    let manager = manager(&fleet, &server);
    let blank = manager.get("/schedules/new").page();
    let of = |css: &str| {
        let field = scraper::Selector::parse(css).unwrap();
        let field = blank.select(&field).next();
        field.and_then(|field| field.attr("value")).map(str::to_owned)
    };
    assert_eq!(of("#active[checked]").as_deref(), Some("yes"));
    for field in ["#lead_days", "#grace_days", "#early_days"] {
        assert_eq!(of(field).as_deref(), Some(""), "{field}");
    }
    type Said = &'static [(&'static str, &'static str)];
    let patterns: [(Said, &str); 7] = [
        (
            &[("pattern", "after_last"), ("every", "1"), ("unit", "years")],
            "Opens 30 days before, overdue after 30 days of grace",
        ),
        (
            &[("pattern", "every"), ("every", "1"), ("unit", "days")],
            "Opens on its day, overdue the day after",
        ),
        (
            &[("pattern", "every"), ("every", "2"), ("unit", "weeks")],
            "Opens 4 days before, overdue after 4 days of grace",
        ),
        (
            &[("pattern", "nth_weekday"), ("nth", "1"), ("weekday", "MO")],
            "Opens 9 days before, overdue after 9 days of grace",
        ),
        (
            &[("pattern", "last_working_day")],
            "Opens 9 days before, overdue after 9 days of grace",
        ),
        (
            &[("pattern", "in_months"), ("months", "10")],
            "Opens 30 days before, overdue after 30 days of grace",
        ),
        (
            &[
                ("pattern", "season"),
                ("season_from", "4"),
                ("season_to", "9"),
                ("season_times", "2"),
            ],
            "Opens 30 days before, overdue after 30 days of grace",
        ),
    ];
    for (said, window) in patterns {
        let mut fields = vec![("lead_days", ""), ("grace_days", ""), ("start", "2026-12-01")];
        fields.extend_from_slice(said);
        let seen = manager.submit("/schedules/new", "/schedules/new", &form(&fields));
        assert_eq!(seen.status, 200, "{said:?}: {}", seen.body);
        assert!(seen.body.contains(window), "{said:?}: {}", seen.body);
        let lead = scraper::Selector::parse("#lead_days").unwrap();
        let page = seen.page();
        let shown = page.select(&lead).next().unwrap().attr("value");
        assert_eq!(
            shown,
            Some(""),
            "what was left empty follows the next pattern too"
        );
    }
    let off = form(&[("lead_days", ""), ("grace_days", ""), ("active", "")]);
    let seen = manager.submit("/schedules/new", "/schedules/new", &off).body;
    let (note, figures) = (seen.find("It is off, so"), seen.find("Work, before and after"));
    assert!(note.is_some() && note < figures, "{seen}");
}

#[test]
fn a_rule_is_made_without_syntax_and_recognised_again() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let said = form(&[
            ("pattern", "nth_weekday"),
            ("nth", "1"),
            ("weekday", "MO"),
            ("month_step", "3"),
            ("start", "2026-01-01"),
        ]);
        let seen = manager.submit("/schedules/new", "/schedules/new", &said);
        assert!(
            seen.body.contains("On the first Monday of every third month"),
            "{}",
            seen.body
        );
        assert_eq!(confirmed(&manager, "/schedules/new", &said).status, 303);
        let page = manager.get("/schedules/hoses_twice/edit");
        let chosen = scraper::Selector::parse("input[name=pattern][checked]").unwrap();
        let pattern = page.page();
        let pattern = pattern.select(&chosen).next().unwrap().attr("value");
        assert_eq!(pattern, Some("nth_weekday"));
        let empty = form(&[("pattern", "in_months"), ("start", "2026-01-01")]);
        let refused = manager.submit("/schedules/new", "/schedules/new", &empty);
        assert_eq!(refused.status, 422);
        assert!(refused.body.contains("No month is chosen"), "{}", refused.body);
    });
}

#[test]
fn a_rule_of_several_lines_leaves_days_out_and_comes_back_as_it_was_typed() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let typed = form(&[
            ("pattern", "text"),
            ("anchor", "calendar"),
            (
                "rule",
                "FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=1\r\nEXDATE;VALUE=DATE:20271001\r\n",
            ),
            ("start", "2026-10-01"),
        ]);
        let seen = manager.submit("/schedules/new", "/schedules/new", &typed);
        assert!(seen.body.contains("Sun 1 Oct 2028"), "{}", seen.body);
        assert!(!seen.body.contains("1 Oct 2027"), "{}", seen.body);
        assert_eq!(confirmed(&manager, "/schedules/new", &typed).status, 303);
        let page = manager.get("/schedules/hoses_twice/edit").body;
        assert!(page.contains("EXDATE;VALUE=DATE:20271001"), "{page}");
        let again = form(&[
            ("pattern", "text"),
            ("anchor", "calendar"),
            (
                "rule",
                "RRULE:FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=1\nEXDATE;VALUE=DATE:20271001,20281001",
            ),
            ("start", "2026-10-01"),
            ("version", "1"),
        ]);
        assert_eq!(
            confirmed(&manager, "/schedules/hoses_twice/edit", &again).status,
            303
        );
        assert!(
            manager
                .get("/schedules/hoses_twice")
                .body
                .contains("Mon 1 Oct 2029")
        );
    });
}
