//! The walk by clicks in Chromium, on SQLite: each of the three in a browser of their own, the manager and the owner at a desk, the
//! technician on a phone. Any line of the console that is an error fails it, violations of the content policy among them.

use std::path::Path;
use std::time::{Duration, Instant};

use super::screen::{DESK_PX, PHONE_PX, Screen};
use super::{LATER, MANAGER, MONDAY, MOVE_IN, OWNER, Office, Somebody, TECHNICIAN, VISIT};
use crate::support::sqlite;

#[test]
fn three_people_do_the_main_job_by_clicks_and_no_page_breaks_its_policy() {
    let fleet = sqlite();
    let office = Office::open(&fleet);
    let manager = Screen::at(&office, DESK_PX);
    set_up_and_import(&manager);
    invite(&manager, &TECHNICIAN, "technician", "ALDER");
    invite(&manager, &OWNER, "owner", "HARBOR");
    name_the_technician(&manager);
    let technician = Screen::at(&office, PHONE_PX);
    let owner = Screen::at(&office, DESK_PX);
    technician.take_invitation(&TECHNICIAN);
    owner.take_invitation(&OWNER);

    office.clock_to(LATER);
    manager.sign_in(&MANAGER);
    plan_what_is_overdue(&manager);

    office.clock_to(VISIT);
    technician.sign_in(&TECHNICIAN);
    visit(&technician);
    repair(&technician, "Wax seal");
    turn_over(&technician);

    office.clock_to(MONDAY);
    let letter = office.mail_to(TECHNICIAN.email, "Mon 30 Nov");
    assert!(
        letter["text"].as_str().unwrap().contains("ALDER 102 · "),
        "{letter}"
    );
    read_the_mail(&manager);

    office.clock_to(MOVE_IN);
    technician.sign_in(&TECHNICIAN);
    close(&technician);
    owner.sign_in(&OWNER);
    read_the_condition(&owner);
    for screen in [&manager, &technician, &owner] {
        screen.is_clean();
    }
    refuse_the_neighbour(&owner);
}

fn set_up_and_import(manager: &Screen) {
    manager.open(&manager.office.first_link());
    for (field, text) in [
        ("#name", MANAGER.name),
        ("#email", MANAGER.email),
        ("#time_zone", "America/Chicago"),
        ("#password", MANAGER.password),
    ] {
        manager.chrome.fill(field, text);
    }
    manager.press("Begin");
    manager.chrome.expect("Nothing is due here.");
    manager.go("/buildings");
    manager.press("Import a fleet");
    let seed = Path::new(env!("CARGO_MANIFEST_DIR")).join("seeds/fleet-example.csv");
    manager.chrome.attach("#files", &seed);
    manager.press("Look at what would change");
    manager.chrome.expect("Every row can be taken.");
    manager.press("Store 258 new");
    manager
        .chrome
        .expect("Fleet stored: 39 fixtures added, 0 changed.");
    manager.is_clean();
}

fn invite(manager: &Screen, somebody: &Somebody, role: &str, place: &str) {
    manager.go("/people");
    manager.press("Invite a person");
    manager.chrome.fill("#name", somebody.name);
    manager.chrome.fill("#email", somebody.email);
    manager.tap(&format!("input[name=role][value={role}]"));
    manager.tap(&format!(
        "input[name={}][value={place}]",
        if role == "owner" { "portfolio" } else { "building" }
    ));
    manager.press("Send the invitation");
    manager.chrome.expect(&format!(
        "{} is invited; a mail with a link is on its way.",
        somebody.name
    ));
    manager.is_clean();
}

fn name_the_technician(manager: &Screen) {
    manager.go("/buildings");
    manager.press("Alder Court");
    manager.press("Change the building");
    manager.chrome.choose("#technician", TECHNICIAN.email);
    manager.press("Save the building");
    manager.chrome.expect(TECHNICIAN.name);
    manager.is_clean();
}

fn plan_what_is_overdue(manager: &Screen) {
    let chrome = &manager.chrome;
    manager.go("/due");
    chrome.choose("#filter-state", "overdue");
    chrome.choose("#filter-building", "ALDER");
    manager.press("More filters");
    chrome.fill("#filter-unit", "101");
    manager.press("Show");
    chrome.expect("19 days over");
    manager.is_clean();
    let ticked = chrome.script(
        "const rows = [...document.querySelectorAll('tbody tr')].filter((row) => row.innerText.includes('WC-1'));
         rows.forEach((row, at) => row.querySelector('input[name=item]').setAttribute('data-row', at)); return rows.length",
    );
    for at in 0..ticked.as_u64().unwrap() {
        manager.tap(&format!("[data-row='{at}']"));
    }
    manager.press("Make a visit from selection");
    chrome.expect("Plan a visit, unit 101");
    chrome.fill("#on_date", "2026-11-27");
    manager.press("Plan the visit");
    chrome.expect("Visit planned for Fri 27 Nov.");
    manager.is_clean();
}

fn visit(technician: &Screen) {
    let chrome = &technician.chrome;
    technician.go("/visits");
    technician.tap("main td.end a");
    technician.press("Record results");
    technician.is_clean();
    technician.answer(
        Some(("wc_base_dry", "Wet at the left bolt after the second flush")),
        "Record results",
    );
    chrome.expect("Opened");
    chrome.expect("due Sat 27 Nov 2027");
    technician.is_clean();
    technician.press("Back to the visit");
    technician.press("Visit done");
    chrome.expect("Visit closed as done.");
    technician.is_clean();
}

fn repair(technician: &Screen, parts: &str) {
    let chrome = &technician.chrome;
    technician.go("/deficiencies");
    technician.tap("main tbody th a");
    chrome.fill("#parts_used", parts);
    chrome.fill("#minutes", "55");
    technician.press("Note the repair");
    chrome.expect("Repaired");
    technician.tap("label[for=outcome]");
    technician.press("Record the re-check");
    chrome.expect("Passed the re-check");
    technician.is_clean();
}

fn turn_over(technician: &Screen) {
    let chrome = &technician.chrome;
    technician.go("/turnovers");
    technician.press("Start a turnover");
    chrome.choose("#building", "ALDER");
    chrome.fill("#label", "201");
    chrome.fill("#move_out_on", "2026-11-27");
    chrome.fill("#move_in_on", "2026-12-10");
    technician.press("Start the turnover");
    chrome.expect("Turnover opened.");
    technician.is_clean();
    let turnover = chrome.address();
    technician.answer(Some(("wc_seat", "Cracked at the hinge")), "Record answers");
    chrome.expect("Deficiency No. 2 opened.");
    technician.press("Say it is repaired");
    chrome.expect("The unit is repaired now.");
    technician.is_clean();
    repair(technician, "Seat");
    chrome.open(&turnover);
    technician.answer(None, "Record answers");
    chrome.expect("recorded.");
    technician.press("Say the unit is ready");
    chrome.expect("The unit is ready now.");
    technician.is_clean();
}

/// The manager sees on a page what was mailed.
fn read_the_mail(manager: &Screen) {
    manager.sign_in(&MANAGER);
    manager.go("/mail");
    manager.tap("main tbody td a");
    manager.chrome.expect("this is your work as of Mon 30 Nov");
    manager.is_clean();
}

fn close(technician: &Screen) {
    let chrome = &technician.chrome;
    technician.go("/turnovers");
    technician.tap("main tbody th a");
    technician.answer(None, "Record answers");
    chrome.expect("recorded.");
    chrome.fill("#name", TECHNICIAN.name);
    technician.press("Close the turnover");
    chrome.expect("Turnover closed. Its record is number 1.");
    technician.is_clean();
    technician.press("Open the record");
    chrome.expect("Turnover record 1");
    chrome.expect("Cracked at the hinge");
    technician.is_clean();
}

/// The file is downloaded, a copy is issued and downloaded too.
fn read_the_condition(owner: &Screen) {
    let (chrome, folder) = (&owner.chrome, tempfile::tempdir().unwrap());
    chrome.download_to(folder.path());
    owner.press("Alder Court");
    chrome.expect("What is not sound");
    owner.is_clean();
    owner.press("Download CSV");
    let file = downloaded(folder.path(), "condition-ALDER-2026-12-10.csv");
    let standing = file.lines().filter(|line| line.starts_with("ALDER,")).count();
    assert_eq!(standing, 24, "a row for each fixture of the spreadsheet:\n{file}");
    owner.press("Issue a numbered copy");
    chrome.expect("Copy no. 1 issued. It will not change.");
    std::fs::remove_file(folder.path().join("condition-ALDER-2026-12-10.csv")).unwrap();
    owner.press("No. 1");
    let copy = one_file(folder.path());
    assert_eq!(copy, file);
    owner.is_clean();
}

fn downloaded(folder: &Path, name: &str) -> String {
    let file = one_file(folder);
    assert!(folder.join(name).exists(), "{name}");
    file
}

/// The only file of a folder, once the browser is done with it.
fn one_file(folder: &Path) -> String {
    let until = Instant::now() + Duration::from_secs(10);
    loop {
        let files: Vec<_> = std::fs::read_dir(folder)
            .unwrap()
            .map(|file| file.unwrap().path())
            .collect();
        if let [file] = files.as_slice()
            && file.extension().is_some_and(|ending| ending == "csv")
        {
            return std::fs::read_to_string(file).unwrap();
        }
        assert!(Instant::now() < until, "nothing was downloaded: {files:?}");
        std::thread::yield_now();
    }
}

/// Another's building is not there. The browser's console tells of that answer, and of nothing else.
fn refuse_the_neighbour(owner: &Screen) {
    owner.open("/condition");
    assert!(!owner.chrome.text().contains("Tilia"));
    owner.open("/condition/TILIA");
    owner.chrome.expect("There is no such building");
    let told = owner.chrome.console_errors();
    assert!(!told.is_empty(), "the console is heard");
    for line in told {
        assert!(line.contains("404 (Not Found)"), "{line}");
    }
}
