//! The walk over plain requests, on both databases.

mod owner;

use std::collections::BTreeMap;

use sha2::{Digest as _, Sha256};

use super::form::{Form, link, selector, text_of};
use super::{LATER, MANAGER, MONDAY, MOVE_IN, OWNER, Office, Somebody, TECHNICIAN, VISIT};
use crate::import::python::read_by_python;
use crate::support::on_both;
use crate::support::server::{Answer, Browser};

pub const SEED: &[u8] = include_bytes!("../../seeds/fleet-example.csv");

#[test]
fn three_people_do_the_main_job_from_a_spreadsheet_to_the_owners_file() {
    on_both(|fleet| {
        let office = Office::open(fleet);
        let manager = set_up(&office);
        import(&manager);
        people(&office, &manager);

        office.clock_to(LATER);
        let manager = sign_in(&office, &MANAGER);
        let (unit, visit) = plan_what_is_overdue(&manager);

        office.clock_to(VISIT);
        let technician = sign_in(&office, &TECHNICIAN);
        let deficiency = visit_it(&technician, &unit, &visit);
        repair(&technician, &deficiency);
        let turnover = turn_over(&technician);

        office.clock_to(MONDAY);
        morning_mail(&office);

        office.clock_to(MOVE_IN);
        let technician = sign_in(&office, &TECHNICIAN);
        close(&technician, &turnover);

        let owner = sign_in(&office, &OWNER);
        owner::read_the_condition(&owner);
        let copy = owner::issue(&owner);
        owner::note_a_leak(&technician);
        owner::the_copy_stays(&owner, copy);
        let manager = sign_in(&office, &MANAGER);
        owner::refuse_the_neighbour(&owner, &manager);
    });
}

/// The first start: one link, one manager.
fn set_up(office: &Office) -> Browser {
    let (manager, link) = (office.server.visitor(), office.first_link());
    let form = Form::at(&manager, &link, &link)
        .fill("name", MANAGER.name)
        .fill("email", MANAGER.email)
        .fill("time_zone", "America/Chicago")
        .fill("password", MANAGER.password);
    let (_, page) = form.sent(&manager);
    assert!(page.status == 200 || page.location == "/due", "{}", page.body);
    manager
}

fn sign_in(office: &Office, somebody: &Somebody) -> Browser {
    let browser = office.server.visitor();
    let form = Form::at(&browser, "/sign-in", "/sign-in")
        .fill("email", somebody.email)
        .fill("password", somebody.password);
    assert_eq!(form.send(&browser).status, 303);
    browser
}

/// The spreadsheet is looked at first, then stored.
fn import(manager: &Browser) {
    let sent = manager.upload("/import", "/import", &[("fleet-example.csv", SEED)]);
    let look = manager.get(&sent.location);
    assert_eq!(
        text_of(&look, ".rule-said"),
        "Every row can be taken. Nothing is stored until you confirm."
    );
    assert!(
        manager
            .get("/buildings")
            .body
            .contains("There is no building here yet")
    );
    let (to, page) = Form::on(&look, &sent.location, &sent.location).sent(manager);
    assert_eq!(to, "/buildings");
    assert_eq!(
        text_of(&page, ".flash"),
        "Fleet stored: 39 fixtures added, 0 changed."
    );
}

/// A technician for one building and an owner of one portfolio are invited by mail; the technician looks after the building.
fn people(office: &Office, manager: &Browser) {
    invite(manager, &TECHNICIAN, ("technician", "building", "ALDER"));
    invite(manager, &OWNER, ("owner", "portfolio", "HARBOR"));
    let looks_after = Form::at(manager, "/buildings/ALDER/edit", "/buildings/ALDER/edit")
        .choose("technician", TECHNICIAN.email);
    looks_after.sent(manager);
    for somebody in [&TECHNICIAN, &OWNER] {
        let (browser, link) = (office.server.visitor(), office.invitation_of(somebody));
        let welcome = browser.get(&link);
        assert_eq!(text_of(&welcome, "h1"), format!("Welcome, {}", somebody.name));
        let taken = Form::on(&welcome, &link, &link).fill("password", somebody.password);
        assert_eq!(taken.send(&browser).status, 303);
        assert_eq!(browser.get("/account").status, 200);
    }
}

fn invite(manager: &Browser, somebody: &Somebody, (role, place, code): (&str, &str, &str)) {
    let form = Form::at(manager, "/people/invite", "/people/invite")
        .fill("name", somebody.name)
        .fill("email", somebody.email)
        .fill("time_zone", "America/Chicago")
        .choose("role", role)
        .choose(place, code);
    let (_, page) = form.sent(manager);
    let said = format!("{} is invited; a mail with a link is on its way.", somebody.name);
    assert_eq!(text_of(&page, ".flash"), said);
}

/// The rows of a list of due items: what stands in each, with the key that its box carries.
fn due_rows(page: &Answer) -> Vec<(String, String)> {
    let (html, rows) = (page.page(), selector("tbody tr:not(.group)"));
    let boxes = selector("input[name=item]");
    html.select(&rows)
        .map(|row| {
            let words = row.text().collect::<Vec<_>>().join(" ");
            let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
            let pick = row.select(&boxes).next();
            let key = pick.unwrap().attr("value").unwrap().to_owned();
            (words, key)
        })
        .collect()
}

/// What is overdue stands first; the checks of one unit become a visit.
fn plan_what_is_overdue(manager: &Browser) -> (String, String) {
    let address = "/due?building=ALDER&state=overdue&unit=101";
    let page = manager.get(address);
    let rows = due_rows(&page);
    // Last done on 7 October 2025, so due a year later; with 30 days of grace the last day was 6 November, and 25 November is 19
    // days after it.
    let base = rows
        .iter()
        .find(|(words, _)| words.contains("Base dry while flushing"));
    let (words, _) = base.unwrap_or_else(|| panic!("{rows:#?}"));
    assert!(
        words.contains("WC-1") && words.contains("19 days over"),
        "{words}"
    );
    assert!(words.contains(TECHNICIAN.name), "{words}");
    let closets = rows.iter().filter(|(words, _)| words.contains("WC-1"));
    let mut selection = Form::on(&page, address, "/visits/new");
    let mut count = 0;
    for (_, key) in closets {
        selection = selection.choose("item", key);
        count += 1;
    }
    assert!(count > 3, "{rows:#?}");
    let (to, page) = selection.sent(manager);
    assert_eq!(text_of(&page, "h1"), "Plan a visit, unit 101");
    let plan = Form::on(&page, &to, "/visits").fill("on_date", "2026-11-27");
    assert_eq!(plan.values("item").len(), count, "what was ticked is ticked here");
    let (visit, page) = plan.sent(manager);
    assert_eq!(text_of(&page, ".flash"), "Visit planned for Fri 27 Nov.");
    assert!(text_of(&page, "main").contains(TECHNICIAN.name));
    (link(&page, "101"), visit)
}

/// The technician records the visit: one thing fails, the rest passes.
fn visit_it(technician: &Browser, unit: &str, visit: &str) -> String {
    let list = technician.get("/visits");
    assert_eq!(link(&list, "Open"), visit);
    let page = technician.get(visit);
    let record = link(&page, "Record results");
    let sheet = Form::at(technician, &record, &format!("{unit}/record"));
    let (_, done) = sheet
        .answer(&[("wc_base_dry", "Wet at the left bolt after the second flush")])
        .sent(technician);
    let said = text_of(&done, "main");
    assert!(said.contains("Opened Deficiency 1"), "{said}");
    assert!(said.contains("due Sat 27 Nov 2027"), "a year on: {said}");
    let page = technician.get(&link(&done, "Back to the visit"));
    let (_, page) = Form::on(&page, visit, "/done").sent(technician);
    assert!(text_of(&page, "main").contains("done"), "{}", page.body);

    // The due date has moved: it is overdue no more, and its next window lies a year on.
    let after = technician.get("/due?building=ALDER&state=overdue&unit=101");
    assert!(
        due_rows_or_none(&after)
            .iter()
            .all(|(words, _)| !words.contains("WC-1"))
    );
    let file = technician
        .get("/due.csv?building=ALDER&state=all&unit=101&check=wc_base_dry")
        .body;
    let rows = by_name(&file);
    assert_eq!(rows.len(), 1, "{file}");
    assert_eq!(
        (rows[0]["due"].as_str(), rows[0]["basis"].as_str()),
        ("2027-11-27", "done")
    );
    link(&done, "Deficiency 1")
}

fn due_rows_or_none(page: &Answer) -> Vec<(String, String)> {
    if page.body.contains("Nothing is due here.") {
        Vec::new()
    } else {
        due_rows(page)
    }
}

/// Rows of a CSV by the names of its columns, as Python's `csv` module reads it.
pub fn by_name(file: &str) -> Vec<BTreeMap<String, String>> {
    let mut rows = read_by_python(file.as_bytes()).into_iter();
    let names = rows.next().unwrap();
    rows.map(|row| names.iter().cloned().zip(row).collect()).collect()
}

/// Repaired, looked at again, and closed by that.
fn repair(technician: &Browser, deficiency: &str) {
    let list = technician.get("/deficiencies?building=ALDER");
    assert!(
        text_of(&list, "main").contains("Base dry while flushing"),
        "{}",
        list.body
    );
    let (_, page) = Form::at(technician, deficiency, "/repaired")
        .fill("parts_used", "wax seal, two bolts")
        .fill("minutes", "55")
        .fill("cost", "18.40")
        .sent(technician);
    let (_, page) = Form::on(&page, deficiency, "/recheck")
        .choose("outcome", "pass")
        .sent(technician);
    let said = text_of(&page, "main");
    assert!(said.contains("Passed the re-check"), "{said}");
    let list = technician.get("/deficiencies?building=ALDER");
    assert_eq!(text_of(&list, ".empty b"), "No deficiency here.");
}

/// The vacant unit is found, repaired and ready; what fails on the way is mended.
fn turn_over(technician: &Browser) -> String {
    let address = "/turnovers/new?building=ALDER&label=201";
    let (turnover, page) = Form::at(technician, address, "/turnovers/new")
        .fill("move_out_on", "2026-11-27")
        .fill("move_in_on", "2026-12-10")
        .sent(technician);
    assert_eq!(text_of(&page, "h1"), "Turnover, unit 201");
    let record = |failing: &[(&str, &str)]| {
        let form = Form::at(technician, &turnover, "/record").answer(failing);
        form.sent(technician).1
    };
    let advance = || Form::at(technician, &turnover, "/advance").sent(technician).1;
    let page = record(&[("wc_seat", "Cracked at the hinge")]);
    assert!(
        text_of(&page, ".flash").contains("Deficiency No. 2 opened."),
        "{}",
        page.body
    );
    assert_eq!(text_of(&advance(), ".flash"), "The unit is repaired now.");
    let deficiency = "/deficiencies/2";
    Form::at(technician, deficiency, "/repaired")
        .fill("parts_used", "seat")
        .sent(technician);
    Form::at(technician, deficiency, "/recheck")
        .choose("outcome", "pass")
        .sent(technician);
    record(&[]);
    assert_eq!(text_of(&advance(), ".flash"), "The unit is ready now.");
    // Nobody moves in before their day's own check is answered.
    let page = technician.get(&turnover);
    assert!(
        text_of(&page, "#steps").starts_with("What keeps it from moved in"),
        "{}",
        page.body
    );
    let token = page.csrf();
    let early = technician.send(
        &format!("{turnover}/close"),
        &[("csrf", &token), ("name", TECHNICIAN.name)],
    );
    assert_eq!(early.status, 422, "{}", early.body);
    turnover
}

/// The mail of the morning lies on the mail server, in both forms.
fn morning_mail(office: &Office) {
    let letter = office.mail_to(TECHNICIAN.email, "Mon 30 Nov");
    assert_eq!(letter["parts"], serde_json::json!(["text/plain", "text/html"]));
    assert_eq!(letter["auto_submitted"], "auto-generated");
    let text = letter["text"].as_str().unwrap();
    assert!(
        text.starts_with("Mira Fenn, this is your work as of Mon 30 Nov"),
        "{text}"
    );
    for words in ["Overdue", "ALDER 102 · ", "Turnovers", "ALDER 201 · ready"] {
        assert!(text.contains(words), "{words} is not in {text}");
    }
    let html = letter["html"].as_str().unwrap();
    assert!(html.contains("<b>ALDER 102</b>"), "{html}");
}

/// The move-in day: the last check, a name, and a record whose sum is the one that the page shows.
fn close(technician: &Browser, turnover: &str) {
    Form::at(technician, turnover, "/record")
        .answer(&[])
        .sent(technician);
    let (_, page) = Form::at(technician, turnover, "/close")
        .fill("name", TECHNICIAN.name)
        .sent(technician);
    assert_eq!(
        text_of(&page, ".flash"),
        "Turnover closed. Its record is number 1."
    );
    let paper = technician.get(&link(&page, "Open the record"));
    assert_eq!(text_of(&page, ".fingerprint"), sum(&paper.body));
    for words in ["Turnover record 1", "Mira Fenn", "Cracked at the hinge"] {
        assert!(text_of(&paper, "body").contains(words), "{words}: {}", paper.body);
    }
}

pub fn sum(text: &str) -> String {
    Sha256::digest(text)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
