//! The import in a real browser: a file is attached, looked at and stored, at both widths, light and dark, without a fault.

use std::path::Path;

use super::page::people;
use super::rows_of;
use crate::support::chrome::{Chrome, Scheme};
use crate::support::server::Server;
use crate::support::sqlite;

/// Looks at the page as it stands in every way; `ANGLESTOP_PICTURES` names a folder to keep what was seen.
fn look(chrome: &Chrome, name: &str) {
    for width_px in [320, 1280] {
        for scheme in [Scheme::Light, Scheme::Dark] {
            chrome.show_as(width_px, scheme);
            let faults = chrome.faults();
            assert!(
                faults.is_empty(),
                "{name}, {width_px} px, {scheme:?}: {faults:#?}"
            );
            if let Ok(folder) = std::env::var("ANGLESTOP_PICTURES") {
                chrome.picture(&Path::new(&folder).join(format!("{name}-{width_px}-{scheme:?}.png")));
            }
        }
    }
    assert_eq!(chrome.console_errors(), Vec::<String>::new(), "{name}");
}

#[test]
fn a_manager_imports_a_fleet_in_a_browser_at_any_width_and_in_the_dark() {
    let fleet = sqlite();
    people(&fleet);
    let server = Server::start(&fleet.db, "2026-11-25T09:00:00");
    let seeds = Path::new(env!("CARGO_MANIFEST_DIR")).join("seeds");
    let chrome = Chrome::start();
    chrome.open(&format!("{}/sign-in?next=%2Fimport", server.address));
    chrome.click("form[action='/demo/sign-in/manager'] button");
    chrome.expect("Import a fleet");
    chrome.script("document.querySelectorAll('details.more-of').forEach((more) => { more.open = true; })");
    look(&chrome, "choose");
    chrome.attach("#files", &seeds.join("fleet-broken.csv"));
    chrome.click_text("Look at what would change");
    chrome.expect("33 things must be mended.");
    look(&chrome, "to-mend");

    chrome.click_text("Choose the mended file");
    chrome.attach("#files", &seeds.join("fleet-example.csv"));
    chrome.click_text("Look at what would change");
    chrome.expect("Every row can be taken.");
    look(&chrome, "sound");
    chrome.click_text("Store 258 new");
    chrome.expect("Fleet stored: 39 fixtures added, 0 changed.");
    assert_eq!(rows_of(&fleet.db, "fixtures"), 39);
    assert_eq!(chrome.console_errors(), Vec::<String>::new());
}
