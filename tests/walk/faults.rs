//! What can go wrong between a phone and the office: a dead server, a slow one, lost answers, a line that comes and goes, two tabs, two
//! phones, a session that ends, no room. No answer is lost and none is doubled.

use std::time::Duration;

use super::line::State;
use super::thumb::Thumb;
use super::{AFTERNOON, Office};
use crate::support::sqlite;

/// Answers so many steps of the walk from wherever it is.
fn steps(phone: &Thumb, count: usize) {
    for _ in 0..count {
        assert!(phone.step(), "the walk is over too soon");
    }
}

fn begin(phone: &Thumb, office: &Office<'_>) {
    phone.open("/today");
    phone.enter(&office.label);
}

#[test]
fn a_dead_server_is_noticed_although_the_browser_believes_that_it_is_on_line() {
    let fleet = sqlite();
    let mut office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    office.line.becomes(State::Cut);
    begin(&phone, &office);
    steps(&phone, 12);
    assert_eq!(phone.chrome.script("return navigator.onLine"), true);
    let kept = phone.kept();
    assert!(!kept.is_empty());
    assert_eq!(phone.unsent(), format!("{} not yet sent", kept.len()));
    phone.go("#/unsent");
    phone.chrome.expect("No answer from the server");
    phone.chrome.expect("on this phone");
    // No `online` event comes when a server is back: the page must try by itself.
    office.restart(AFTERNOON);
    office.line.becomes(State::Whole);
    phone.until_sent(60);
    office.has_exactly(&kept);
}

#[test]
fn a_server_that_takes_thirty_seconds_is_waited_for_while_the_walk_goes_on() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    begin(&phone, &office);
    office.line.becomes(State::Slow(Duration::from_secs(30)));
    steps(&phone, 8);
    let before = phone.kept();
    phone.go("#/unsent");
    phone.until_within("return document.body.innerText.includes('sending')", 20);
    begin(&phone, &office);
    steps(&phone, 4);
    office.line.becomes(State::Whole);
    phone.until_sent(90);
    let arrived: Vec<String> = office
        .results()
        .iter()
        .map(|entry| entry.client_id.to_string())
        .collect();
    assert!(before.iter().all(|id| arrived.contains(id)));
    assert!(arrived.len() > before.len(), "and what was answered meanwhile");
    assert_eq!(office.per_item(), 1);
}

#[test]
fn an_answer_of_the_server_that_is_lost_doubles_nothing() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    office.line.becomes(State::Cut);
    begin(&phone, &office);
    steps(&phone, 12);
    let kept = phone.kept();
    office.line.becomes(State::Deaf);
    let until = std::time::Instant::now() + Duration::from_secs(40);
    while office.results().len() < kept.len() {
        assert!(
            std::time::Instant::now() < until,
            "the batch does not reach the server"
        );
        std::thread::sleep(Duration::from_millis(100));
    }
    assert!(
        phone.unsent().contains("not yet sent"),
        "the phone has not heard of it"
    );
    office.line.becomes(State::Whole);
    phone.until_sent(60);
    office.has_exactly(&kept);
}

#[test]
fn a_line_that_comes_and_goes_every_two_seconds_loses_and_doubles_nothing() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    begin(&phone, &office);
    let done = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut is_whole = true;
            while !done.load(std::sync::atomic::Ordering::SeqCst) {
                is_whole = !is_whole;
                office
                    .line
                    .becomes(if is_whole { State::Whole } else { State::Cut });
                std::thread::sleep(Duration::from_secs(2));
            }
        });
        while phone.step() {}
        done.store(true, std::sync::atomic::Ordering::SeqCst);
    });
    office.line.becomes(State::Whole);
    phone.until_sent(90);
    assert_eq!(office.per_item(), 1);
    assert_eq!(office.left(), 0, "every as-found check is answered");
}

#[test]
fn two_tabs_send_each_answer_once() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    office.line.becomes(State::Cut);
    begin(&phone, &office);
    steps(&phone, 4);
    let (first, second) = phone.chrome.second_tab();
    phone
        .chrome
        .show_as(super::thumb::PHONE_PX, crate::support::chrome::Scheme::Light);
    begin(&phone, &office);
    steps(&phone, 4);
    phone.chrome.to_tab(&first);
    steps(&phone, 2);
    let kept = phone.kept();
    office.line.becomes(State::Whole);
    phone.until_sent(60);
    phone.chrome.to_tab(&second);
    phone.until_sent(60);
    office.has_exactly(&kept);
}

#[test]
fn a_tab_that_finds_another_sending_has_its_units_soon_after() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    phone.chrome.open(&format!("{}/urgent", office.line.address));
    phone.chrome.ask(
        "await new Promise((done, fail) => Object.assign(indexedDB.deleteDatabase('anglestop'), { onsuccess: done, onerror: fail, onblocked: fail }));
        await new Promise((held) => navigator.locks.request('anglestop.send', () => { held(); return new Promise((go) => setTimeout(go, 4000)); }));",
    );
    phone.chrome.second_tab();
    phone.open("/today");
    phone.until_within("return document.querySelector('a.to-unit') !== null", 15);
}

#[test]
fn two_phones_on_one_unit_both_keep_what_they_saw_and_the_later_counts() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let one = Thumb::in_hand(&office);
    let other = Thumb::of(&office, "manager", 0);
    office.line.becomes(State::Cut);
    for phone in [&one, &other] {
        begin(phone, &office);
        phone.tap_on(".bars a.first");
        phone.tap_on(".checks a");
    }
    one.fail_item("Rocks", &[]);
    other.tap_on("#pass");
    let (failed, passed) = (one.kept(), other.kept());
    // The server's clock runs on while the two are received, as clocks do.
    office.with_a_running_clock(AFTERNOON, || {
        office.line.becomes(State::Whole);
        other.until_sent(90);
        one.until_sent(90);
    });
    let results = office.results();
    assert_eq!(results.len(), 2, "both are kept");
    assert_eq!(
        results.last().unwrap().client_id.to_string(),
        passed[0],
        "the later one is the manager's pass"
    );
    assert_eq!(results[0].client_id.to_string(), failed[0]);
    one.chrome.script("location.reload()");
    one.until("return document.documentElement.dataset.drawn !== undefined");
    let said = office.last_said();
    assert_eq!(said, "pass", "the later counts, whichever arrived first");
}

#[test]
fn a_session_that_ended_keeps_what_is_done_and_sends_it_after_the_next_sign_in() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    office.end_sessions();
    begin(&phone, &office);
    steps(&phone, 8);
    phone.chrome.expect("Signed out.");
    let kept = phone.kept();
    assert!(office.results().is_empty());
    phone.sign_in("technician");
    phone.until_sent(60);
    office.has_exactly(&kept);
}

#[test]
fn signing_out_with_unsent_work_asks_and_offers_a_file_that_can_be_taken_in_again() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    let folder = tempfile::tempdir().unwrap();
    phone.chrome.download_to(folder.path());
    office.line.becomes(State::Cut);
    begin(&phone, &office);
    steps(&phone, 6);
    let kept = phone.kept();
    phone.go("#/out");
    phone
        .chrome
        .expect("removes from this phone what is not yet sent");
    assert!(phone.has("#sign-out[disabled]"), "no sign-out without a line");
    phone.tap(".fill button.also");
    let file = super::downloaded(folder.path());
    // The line is back for the session alone: batches are lost, so that the work is still unsent at the sign-out.
    office.line.becomes(State::Deaf);
    phone.go("#/unsent");
    phone.go("#/out");
    phone.until("return document.querySelector('#sign-out:not([disabled])') !== null");
    assert!(phone.has("#sign-out.wrong"), "it says that it removes the work");
    phone.tap("#sign-out");
    phone.until("return location.pathname === '/sign-in'");
    office.line.becomes(State::Whole);
    phone.sign_in("technician");
    phone.go("#/unsent");
    phone.chrome.attach("#file", &file);
    phone.chrome.expect(" taken in.");
    phone.until_sent(60);
    office.has_exactly(&kept);
}

#[test]
fn a_phone_without_room_says_that_nothing_was_kept() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    begin(&phone, &office);
    office.line.becomes(State::Cut);
    phone.tap_on(".bars a.first");
    phone.chrome.room(&office.line.address, 1);
    // The browser believes in the room that it measured last for half a minute.
    std::thread::sleep(Duration::from_secs(32));
    phone.tap("#pass-all");
    phone
        .chrome
        .expect("This phone has no room left: that was not kept");
    assert!(phone.kept().is_empty());
    assert_eq!(phone.unsent(), "All sent");
    phone.chrome.room(&office.line.address, 50 << 20);
    std::thread::sleep(Duration::from_secs(32));
    phone.tap_on("#pass-all");
    let kept = phone.kept();
    office.line.becomes(State::Whole);
    phone.until_sent(60);
    office.has_exactly(&kept);
}
