//! What a manager does with checks by page: look them up, add one, copy ours, change it as a new version, withdraw it.

use super::{NOW, manager};
use crate::support::on_both;
use crate::support::server::{Browser, Server};

#[test]
fn every_built_in_check_has_a_page_that_says_where_its_values_come_from() {
    let fleet = crate::support::sqlite();
    let server = Server::start(&fleet.db, NOW);
    let manager = manager(&fleet, &server);
    let built_in = anglestop::exchange::catalogue::builtin().unwrap();
    let listed = manager.get("/checks").body;
    for check in &built_in.checks {
        let code = check.code.as_str();
        assert!(
            listed.contains(&format!("href=\"/checks/{code}\"")),
            "{code} is not listed"
        );
        let page = manager.get(&format!("/checks/{code}"));
        assert_eq!(page.status, 200, "{code}");
        let text: String = page.page().root_element().text().collect();
        for said in [
            &check.ask,
            &check.source.phrase(),
            &check.severity_source.phrase(),
        ] {
            assert!(text.contains(said.as_str()), "{code}: {said}");
        }
        if !check.cautions.is_empty() {
            assert!(
                text.contains("Local codes and licensed practice decide."),
                "{code}"
            );
        }
    }
    let of_heaters = manager.get("/checks?kind=water_heater").body;
    assert!(of_heaters.contains("/checks/heater_") && !of_heaters.contains("/checks/wc_base_dry"));
}

#[test]
fn ours_is_copied_and_the_copy_changed_while_ours_stays() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let built_in = manager.get("/checks/wc_base_dry/edit");
        assert_eq!(built_in.status, 422);
        assert!(built_in.body.contains("Copy it and change the copy"));
        let page = "/checks/wc_base_dry";
        let taken = manager.submit(page, "/checks/wc_base_dry/copy", &[("code", "wc_refill")]);
        assert_eq!(taken.status, 422);
        assert!(taken.body.contains("wc_refill is there already"));
        let copied = manager.submit(page, "/checks/wc_base_dry/copy", &[("code", "our_base_dry")]);
        assert_eq!(copied.location, "/checks/our_base_dry/edit");
        let mut fields = fields_of(&manager, "/checks/our_base_dry/edit");
        for (name, value) in &mut fields {
            if name == "title" {
                *value = "Base dry, our way".to_owned();
            }
        }
        let sent: Vec<(&str, &str)> = fields.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        let changed = manager.send("/checks/our_base_dry/edit", &sent);
        assert_eq!(changed.status, 303, "{}", changed.body);
        let now = manager.get("/checks/our_base_dry").body;
        assert!(now.contains("Base dry, our way") && now.contains("version 2"));
        let before = manager.get("/checks/our_base_dry?version=1").body;
        assert!(before.contains("as it was asked then") && !before.contains("<h1>Base dry, our way"));
        let again = manager.send("/checks/our_base_dry/edit", &sent);
        assert_eq!(again.status, 409, "{}", again.body);
        let withdrawn = manager.submit(
            "/checks/our_base_dry",
            "/checks/our_base_dry/offer",
            &[("to", "withdrawn")],
        );
        assert_eq!(withdrawn.status, 303);
        assert!(manager.get("/checks?origin=own").body.contains("withdrawn"));
        assert!(manager.get(page).body.contains("Built in, version 1"));
    });
}

/// Every field of a form as a browser would send it untouched.
fn fields_of(browser: &Browser, address: &str) -> Vec<(String, String)> {
    let answer = browser.get(address);
    let page = answer.page();
    let form = scraper::Selector::parse("form[method=post]:not([action])").unwrap();
    let form = page.select(&form).next().unwrap();
    let mut fields = Vec::new();
    let inputs = scraper::Selector::parse("input, textarea, select").unwrap();
    let chosen = scraper::Selector::parse("option[selected]").unwrap();
    for field in form.select(&inputs) {
        let name = field.attr("name").unwrap_or_default().to_owned();
        let value = match (field.value().name(), field.attr("type")) {
            ("textarea", _) => Some(field.text().collect::<String>()),
            ("select", _) => Some(
                field
                    .select(&chosen)
                    .next()
                    .and_then(|option| option.attr("value"))
                    .unwrap_or_default()
                    .to_owned(),
            ),
            (_, Some("checkbox" | "radio")) => field
                .attr("checked")
                .map(|_| field.attr("value").unwrap_or_default().to_owned()),
            _ => Some(field.attr("value").unwrap_or_default().to_owned()),
        };
        fields.extend(value.map(|value| (name, value)));
    }
    fields
}

#[test]
fn a_check_of_ones_own_is_added_or_comes_back_with_what_to_mend() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOW);
        let manager = manager(fleet, &server);
        let bad = [
            ("code", "our_drip"),
            ("title", "Drip counted"),
            ("answer", "reading"),
            ("reading_of", "Drips a minute"),
            ("unit", "count"),
            ("limits", "at_most"),
            ("minutes", "0"),
        ];
        let refused = manager.submit("/checks/new", "/checks/new", &bad);
        assert_eq!(refused.status, 422);
        for sentence in [
            "No kind of fixture is named",
            "says too little",
            "can&#39;t be planned",
        ] {
            assert!(refused.body.contains(sentence), "{sentence}: {}", refused.body);
        }
        let good = [
            ("code", "our_drip"),
            ("title", "Drip counted"),
            ("ask", "Count the drips of the shower head for a minute."),
            ("kinds", "shower"),
            ("answer", "verdict"),
            ("pass", "No drip"),
            ("fail", "It drips"),
            ("severity", "low"),
            ("minutes", "1"),
        ];
        let added = manager.submit("/checks/new", "/checks/new", &good);
        assert_eq!(
            (added.status, added.location.as_str()),
            (303, "/checks/our_drip"),
            "{}",
            added.body
        );
        let page = manager.get("/checks/our_drip").body;
        assert!(page.contains("Your own, version 1") && page.contains("common practice, no source"));
    });
}
