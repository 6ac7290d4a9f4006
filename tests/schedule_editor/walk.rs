//! One schedule from its first mistake to the undoing of its change: what is wrong is said once, linked and kept; what it would do stands
//! there before anything is stored; and what is undone leaves the due list as it was, row by row.

use super::{By, Desk, Office, sqlite};
use crate::due::command::{anglestop, out};
use crate::support::postgres;

const NAME: &str = "Faucet flow, on Mondays";
const CODE: &str = "faucet_flow_on_mondays";
const PAGE: &str = "/schedules/faucet_flow_on_mondays";

#[test]
fn a_rule_is_made_changed_and_undone_by_keyboard_and_every_page_on_the_way_is_accessible() {
    let office = Office::new(sqlite());
    let desk = office.sit_down(By::Keyboard);
    walk(&desk);
    desk.is_clean();
}

#[test]
fn a_rule_is_made_changed_and_undone_by_pointer_without_any_script() {
    let office = Office::new(postgres());
    office.chrome.without_script();
    let desk = office.sit_down(By::Pointer);
    walk(&desk);
    desk.chrome
        .open(&format!("{}/due?state=all", office.server.address));
    let asleep = "const places = [...document.querySelectorAll('[data-script]')]; return [places.length > 0, places.every((place) => place.hidden)]";
    assert_eq!(
        desk.chrome.script(asleep),
        serde_json::json!([true, true]),
        "a script ran after all"
    );
    desk.is_clean();
}

fn walk(desk: &Desk<'_>) {
    desk.look("list");
    let before = desk.due_rows();
    mistake(desk);
    let overdue = add(desk);
    let added = desk.due_rows();
    assert_ne!(before, added);
    let was = desk.text(".rule-said");
    change(desk, overdue);
    assert_ne!(desk.due_rows(), added);
    undo(desk, &was);
    assert_eq!(desk.due_rows(), added, "the due list is as before the change");
    out(&anglestop(&desk.office.fleet.url, &["verify", "due"]));
    switch_off(desk);
    assert_eq!(desk.due_rows(), before, "the due list is as before the schedule");
}

/// Sends a form that can't be used.
fn mistake(desk: &Desk<'_>) {
    let (hand, chrome) = (&desk.hand, desk.chrome);
    hand.press("Add a schedule");
    hand.fill("#name", NAME);
    hand.mark("#pattern-nth_weekday");
    hand.choose("#nth", "first");
    hand.fill("#start", "next week");
    hand.fill("#lead_days", "a few");
    hand.press("See what it would do");
    assert_eq!(desk.text(".error-summary h2"), "3 things to mend");
    assert_eq!(
        chrome.script("return document.activeElement.className"),
        "error-summary",
        "the summary has the focus"
    );
    let said = desk.texts(".error-summary a");
    assert_eq!(
        said,
        [
            "The weekday is not chosen. Choose one.",
            "Days of lead “a few” is not a whole number. Give one from 0 to 3660.",
            "No check is named. Choose what is to be done.",
        ]
    );
    assert_eq!(desk.texts("p.error"), said, "each stands at its field too");
    let kept = "const value = (id) => document.getElementById(id).value;
        return [value('name'), value('nth'), value('start'), value('lead_days'), document.querySelector('input[name=pattern]:checked').value, document.getElementById('active').checked]";
    assert_eq!(
        chrome.script(kept),
        serde_json::json!([NAME, "1", "next week", "a few", "nth_weekday", true])
    );
    desk.look("mistake");
    chrome.script("document.querySelector('.error-summary').focus()");
    for (words, field) in said.iter().zip(["weekday", "lead_days", "checks"]) {
        hand.open(words);
        assert_eq!(
            chrome.script("return document.activeElement.id || location.hash.slice(1)"),
            field
        );
        chrome.script("document.querySelector('.error-summary').focus()");
    }
}

/// Mends it, looks at what it would do and adds it; answers with how much is overdue by it.
fn add(desk: &Desk<'_>) -> usize {
    let (hand, chrome) = (&desk.hand, desk.chrome);
    hand.choose("#weekday", "Monday");
    hand.fill("#start", "2026-01-01");
    hand.fill("#lead_days", "10");
    hand.fill("#grace_days", "10");
    desk.tick_check("Lavatory", "faucet_flow");
    hand.press("See what it would do");
    chrome.expect("Nothing is stored yet.");
    assert_eq!(desk.behind.get(PAGE).status, 404, "nothing is stored yet");
    assert_eq!(desk.text("h2#would"), "What it would do");
    let sentence = desk.text(".rule-said");
    assert_eq!(
        sentence,
        "On the first Monday of every month. Opens 10 days before, overdue after 10 days of grace. A result counts from 14 days before."
    );
    let dates = desk.texts(".looked .dates li");
    assert_eq!((dates.len(), dates[0].as_str()), (12, "Mon 7 Dec"));
    assert_eq!(
        desk.filled_days(),
        [
            "2026-12-07",
            "2027-01-04",
            "2027-02-01",
            "2027-03-01",
            "2027-04-05",
            "2027-05-03",
            "2027-06-07",
            "2027-07-05",
            "2027-08-02",
            "2027-09-06",
            "2027-10-04",
            "2027-11-01"
        ]
    );
    let (none, fixtures) = desk.figure("Fixtures asked about");
    assert_eq!(none, "0", "nothing else asks for this check");
    let (_, overdue) = desk.figure("Overdue today");
    let (fixtures, overdue): (usize, usize) = (fixtures.parse().unwrap(), overdue.parse().unwrap());
    assert!(fixtures > 0 && overdue > 0, "{fixtures} and {overdue}");
    chrome.expect(&format!("{overdue} checks become overdue at once."));
    chrome.expect("Its first day has passed.");
    picture(desk);
    desk.look("preview");
    hand.press("Add the schedule");
    chrome.expect("Schedule added.");
    assert_eq!(desk.text(".rule-said"), sentence);
    let rows = rows(desk);
    assert_eq!(rows.len(), fixtures, "a row for each fixture that was spoken of");
    let over = rows.iter().filter(|row| row.contains(",overdue,")).count();
    assert_eq!(over, overdue, "as many are overdue as was foretold");
    overdue
}

/// The picture of the impact has two bars a month and says the sums of the table.
fn picture(desk: &Desk<'_>) {
    let bars = desk
        .chrome
        .script("const pic = document.querySelector('.looked svg.load'); return [pic.querySelectorAll('rect.bar').length, pic.querySelectorAll('rect.bar-before').length, pic.querySelector('title').textContent]");
    let (before, after) = desk.figure("Checks in 24 months");
    assert_eq!(
        bars,
        serde_json::json!([
            25,
            25,
            format!("Checks a month for 24 months: {before} as it is, {after} as it would be")
        ]),
        "24 months and the legend"
    );
}

/// Changes it to every third month from December on, with what that means in sight.
fn change(desk: &Desk<'_>, overdue: usize) {
    let (hand, chrome) = (&desk.hand, desk.chrome);
    desk.look("added");
    hand.press("Change the schedule");
    assert_eq!(
        chrome.script("return document.querySelector('input[name=pattern]:checked').value"),
        "nth_weekday"
    );
    hand.mark("#pattern-last_working_day");
    hand.fill("#month_step", "3");
    hand.fill("#start", "2026-12-01");
    hand.press("See what it would do");
    assert_eq!(
        desk.figure("Overdue today"),
        (overdue.to_string(), "0".to_owned()),
        "before stands what the addition came to"
    );
    chrome.expect(&format!("{overdue} fewer are overdue."));
    let checks = desk.figure("Checks in 24 months");
    assert_ne!(checks.0, checks.1);
    picture(desk);
    assert_eq!(
        desk.filled_days(),
        ["2026-12-31", "2027-03-31", "2027-06-30", "2027-09-30"]
    );
    desk.look("change");
    hand.press("Change the schedule");
    chrome.expect("Schedule changed. The due list follows it.");
    assert!(
        desk.text(".rule-said").starts_with("On the last working day"),
        "{}",
        desk.text(".rule-said")
    );
    chrome.expect("Its rule before: On the first Monday of every month.");
    let rows = rows(desk);
    assert!(
        !rows.is_empty() && rows.iter().all(|row| row.contains(",2026-12-31,")),
        "{rows:?}"
    );
}

/// One click.
fn undo(desk: &Desk<'_>, was: &str) {
    desk.look("changed");
    desk.hand.press("Undo that change");
    desk.chrome
        .expect("Undone: it says what it said before. The due list follows it.");
    assert_eq!(desk.text(".rule-said"), was);
    assert_eq!(desk.filled_days().first().map(String::as_str), Some("2026-12-07"));
    desk.look("undone");
}

/// Switches it off, which is shown beforehand too.
fn switch_off(desk: &Desk<'_>) {
    desk.hand.press("Switch off");
    desk.chrome.expect("Nothing is changed yet.");
    assert_eq!(desk.figure("Fixtures asked about").1, "0");
    desk.look("switch");
    desk.hand.press("Switch off");
    desk.chrome.expect("Switched off. Its results stay.");
    assert_eq!(desk.behind.get(PAGE).status, 200);
}

/// The due rows that the schedule asks for.
fn rows(desk: &Desk<'_>) -> Vec<String> {
    let asked = format!(",{CODE},");
    let file = desk.due_rows();
    let lines = file.lines().filter(|line| line.contains(&asked));
    lines.map(str::to_owned).collect()
}
