//! On a phone's width, in a real browser: a cause in four answers, a leak measured, and what it costs; each screen without a fault that
//! axe-core finds, no sideways scroll, targets as high as a thumb.

use std::path::Path;

use anglestop::actions::water::{SetTerms, TermsText, set_terms};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::PartKind;
use anglestop::domain::trade::water::TariffText;

use crate::results::stage::{noon, of_part, stage};
use crate::support::chrome::{Chrome, Scheme};
use crate::support::server::Server;
use crate::support::sqlite;

fn look(chrome: &Chrome, name: &str) {
    for scheme in [Scheme::Light, Scheme::Dark] {
        chrome.show_as(320, scheme);
        let faults = chrome.faults();
        assert!(faults.is_empty(), "{name}, {scheme:?}: {faults:#?}");
        if let Ok(folder) = std::env::var("ANGLESTOP_PICTURES") {
            chrome.picture(&Path::new(&folder).join(format!("{name}-320-{scheme:?}.png")));
        }
    }
    let low = chrome.script(
        "return [...document.querySelectorAll('.bars > a, .bars > button, .act')].filter((bar) => bar.getBoundingClientRect().height < 48).length",
    );
    assert_eq!(low, 0, "{name}: a target is under 48 px");
    // A form that comes back with what to mend is answered 422, which the browser notes.
    let mut errors = chrome.console_errors();
    errors.retain(|line| !line.contains("status of 422"));
    assert_eq!(errors, Vec::<String>::new(), "{name}");
}

#[test]
fn a_technician_finds_a_cause_in_four_answers_and_sees_what_the_leak_costs() {
    let fleet = sqlite();
    let stage = stage(&fleet.db);
    let closet = stage.water_closet();
    let runs = of_part(closet, PartKind::FillValve, "wc_runs_on", Outcome::Fail);
    let id = stage.opened("2026-11-24", runs);
    let terms = SetTerms {
        building: stage.building,
        text: TermsText {
            tariff: TariffText {
                water_price: "4.00".to_owned(),
                sewer_price: "6.00".to_owned(),
                billed: "kgal".to_owned(),
                currency: "USD".to_owned(),
            },
            programme: String::new(),
        },
    };
    set_terms(&fleet.db, &stage.manager, noon("2026-11-24"), &terms).unwrap();
    let server = Server::start(&fleet.db, "2026-11-25T18:00:00");
    let chrome = Chrome::start();
    chrome.show_as(320, Scheme::Light);
    chrome.open(&format!("{}/sign-in?next=%2Fdeficiencies%2F{id}", server.address));
    chrome.click("form[action='/demo/sign-in/technician'] button");
    chrome.expect("Nobody has measured what it loses.");
    look(&chrome, "deficiency");

    chrome.click_text("Find the cause");
    chrome.expect("Answer 1 of at most 4");
    look(&chrome, "symptoms");
    chrome.click_text("Runs on and on");
    chrome.expect("Answer 2 of at most 4");
    look(&chrome, "question");
    chrome.click_text("Still at the mark");
    chrome.expect("Answer 3 of at most 4");
    chrome.click_text("Stops when lifted");
    chrome.expect("Answer 4 of at most 4");
    chrome.click_text("Rubs, or has water in it");
    chrome.expect("Float rubs, or has water in it");
    chrome.expect("Local codes and licensed practice decide.");
    look(&chrome, "cause");
    chrome.click_text("Record what was found");
    chrome.expect("What was found is recorded.");

    chrome.click_text("Measure the leak");
    chrome.expect("Drips a minute");
    look(&chrome, "drips");
    chrome.click_text("Meter reading");
    chrome.fill("#gallons", "a lot");
    chrome.fill("#hours", "2");
    chrome.click_text("Keep the measurement");
    chrome.expect("One thing to mend");
    look(&chrome, "mend");
    // 10 gal in 2 h are 120 a day, 3,600 in 30 days; at 10.00 a thousand that is 36.00.
    chrome.fill("#gallons", "10");
    chrome.click_text("Keep the measurement");
    chrome.expect("Measured: 120 gal a day");
    chrome.expect("3,600 gal");
    chrome.expect("36.00 USD");
    look(&chrome, "measured");

    chrome.open(&format!("{}/buildings/ALDER", server.address));
    // 840 gal a week at 10.00 a thousand.
    chrome.expect("Waiting a week costs 8.40 USD.");
    chrome.click_text("Open leaks");
    chrome.expect("All that are measured");
    look(&chrome, "building");
    chrome.open(&format!("{}/deficiencies/{id}/choice?repair=80", server.address));
    chrome.expect("80.00 USD");
    look(&chrome, "choice");
}

#[test]
fn a_manager_sets_terms_and_prices_in_a_browser() {
    let fleet = sqlite();
    let _stage = stage(&fleet.db);
    let server = Server::start(&fleet.db, "2026-11-25T18:00:00");
    let chrome = Chrome::start();
    chrome.show_as(320, Scheme::Light);
    chrome.open(&format!(
        "{}/sign-in?next=%2Fbuildings%2FALDER%2Fterms",
        server.address
    ));
    chrome.click("form[action='/demo/sign-in/manager'] button");
    chrome.expect("Terms of the building");
    look(&chrome, "terms");
    chrome.fill("#water_price", "4,63");
    chrome.click_text("Set the terms");
    chrome.expect("things to mend");
    chrome.fill("#water_price", "4.63");
    chrome.fill("#currency", "USD");
    chrome.choose("#programme", "voucher");
    chrome.click_text("Set the terms");
    chrome.expect("Terms set. They hold from now on.");
    chrome.expect("4.63 water and 0.00 sewer, USD per CCF");
    chrome.open(&format!("{}/deficiencies/prices", server.address));
    look(&chrome, "prices");
    chrome.fill("#hour", "65.00");
    chrome.click_text("Set the prices");
    chrome.expect("Prices set.");
    look(&chrome, "prices-set");
}
