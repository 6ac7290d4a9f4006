//! Tabs killed and pages loaded anew at random moments, with a line that is cut at random: no answer that the screen said was kept is lost,
//! and none is doubled. `ANGLESTOP_TEST_SEED` repeats a run, `ANGLESTOP_TEST_KILLS` makes a long one.

use rand::{Rng as _, SeedableRng as _, rngs::StdRng};

use std::time::Duration;

use super::Office;
use super::line::State;
use super::thumb::{PHONE_PX, Thumb};
use crate::support::chrome::Scheme;
use crate::support::sqlite;

const KILLS: usize = 40;

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok().and_then(|text| text.parse().ok())
}

/// Another one every time.
fn some_seed() -> u64 {
    u64::from(
        std::time::SystemTime::now()
            .duration_since(std::time::UNIX_EPOCH)
            .unwrap()
            .subsec_nanos(),
    )
}

#[test]
fn no_answer_is_lost_or_doubled_when_tabs_are_killed_at_random() {
    let seed = number("ANGLESTOP_TEST_SEED").unwrap_or_else(some_seed);
    let kills = number("ANGLESTOP_TEST_KILLS").map_or(KILLS, |kills| usize::try_from(kills).unwrap());
    println!("ANGLESTOP_TEST_SEED={seed}");
    let mut chance = StdRng::seed_from_u64(seed);
    let (mut left, mut answers) = (kills, 0);
    while left > 0 {
        let (used, arrived) = round(&mut chance, left, seed);
        left -= used;
        answers += arrived;
    }
    println!("{kills} kills and reloads, {answers} answers, none lost, none doubled");
}

/// Walks a turnover with kills until it is over or they are used up; answers with how many there were, and how many answers arrived.
fn round(chance: &mut StdRng, most: usize, seed: u64) -> (usize, usize) {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    let (mut confirmed, mut kills) = (Vec::new(), 0);
    while kills < most {
        office.line.becomes(if chance.random_bool(0.5) {
            State::Whole
        } else {
            State::Cut
        });
        phone.open("/today");
        phone.enter(&office.label);
        let mut is_over = false;
        for _ in 0..chance.random_range(1..6) {
            is_over = !onward(&phone);
            confirmed = merged(confirmed, phone.kept());
        }
        if is_over {
            break;
        }
        // A tap whose screen nobody waits for, then the end of the page.
        phone
            .chrome
            .script("document.querySelector('#pass, #pass-all, .bars .first')?.click()");
        std::thread::sleep(Duration::from_millis(chance.random_range(0..60)));
        if chance.random_bool(0.7) {
            phone.chrome.kill_tab();
            phone.chrome.show_as(PHONE_PX, Scheme::Light);
        } else {
            phone.chrome.open("about:blank");
        }
        kills += 1;
    }
    office.line.becomes(State::Whole);
    phone.open("/today");
    phone.until_sent(90);
    let results = office.results();
    let arrived: Vec<String> = results.iter().map(|entry| entry.client_id.to_string()).collect();
    let lost: Vec<&String> = confirmed.iter().filter(|id| !arrived.contains(id)).collect();
    assert!(lost.is_empty(), "lost with seed {seed}: {lost:?}");
    assert!(office.per_item() <= 1, "doubled with seed {seed}");
    // A round that ends with the walk used no kill when the walk was over at once.
    (kills.max(1), arrived.len())
}

/// One step, check by check where a stretch could be passed at once; a step of the turnover when a part is done. False at the signature.
fn onward(phone: &Thumb) -> bool {
    if phone.has("#advance") {
        phone.tap("#advance");
        phone.until("return document.querySelector('#advance') === null");
        return true;
    }
    if phone.has("#pass-all") {
        phone.tap_on(".bars a[href*='/i/']");
        return true;
    }
    phone.step()
}

fn merged(mut all: Vec<String>, more: Vec<String>) -> Vec<String> {
    for id in more {
        if !all.contains(&id) {
            all.push(id);
        }
    }
    all
}
