//! Each way of saying a rule: what is typed, the sentence that comes of it, its first dates, and the days that the year's picture fills.
//! The dates were read off a calendar of 2026 to 2028.

use super::{By, Desk, Office, sqlite};

struct Saying {
    name: &'static str,
    pattern: &'static str,
    say: fn(&Desk<'_>),
    sentence: &'static str,
    first_dates: &'static [&'static str],
    filled: &'static [&'static str],
    /// The saying that the rule is recognised as; a season comes to certain months.
    again: &'static str,
}

const FIRST_DAY: &str = "2026-12-01";

const SAYINGS: [Saying; 6] = [
    Saying {
        name: "Flow after six months",
        pattern: "after_last",
        say: |desk| {
            desk.hand.fill("#every", "6");
            desk.hand.choose("#unit", "months");
        },
        sentence: "Every 6 months, counted from the last time.",
        first_dates: &["Tue 25 May 2027", "Thu 25 Nov 2027"],
        filled: &["2027-05-25", "2027-11-25"],
        again: "after_last",
    },
    Saying {
        name: "Flow every four months",
        pattern: "every",
        say: |desk| {
            desk.hand.fill("#every", "4");
            desk.hand.choose("#unit", "months");
            desk.hand.fill("#start", FIRST_DAY);
        },
        sentence: "On the 1st of every fourth month, the first on 1 December 2026.",
        first_dates: &["Tue 1 Dec", "Thu 1 Apr 2027", "Sun 1 Aug 2027", "Wed 1 Dec 2027"],
        filled: &["2026-12-01", "2027-04-01", "2027-08-01"],
        again: "every",
    },
    Saying {
        name: "Flow on Mondays",
        pattern: "nth_weekday",
        say: |desk| {
            desk.hand.choose("#nth", "first");
            desk.hand.choose("#weekday", "Monday");
            desk.hand.fill("#month_step", "6");
            desk.hand.fill("#start", FIRST_DAY);
        },
        sentence: "On the first Monday of every sixth month",
        first_dates: &["Mon 7 Dec", "Mon 7 Jun 2027", "Mon 6 Dec 2027"],
        filled: &["2026-12-07", "2027-06-07"],
        again: "nth_weekday",
    },
    Saying {
        name: "Flow on the last working day",
        pattern: "last_working_day",
        say: |desk| {
            desk.hand.fill("#month_step", "3");
            desk.hand.fill("#start", FIRST_DAY);
        },
        sentence: "On the last working day (Monday to Friday) of every third month",
        first_dates: &[
            "Thu 31 Dec",
            "Wed 31 Mar 2027",
            "Wed 30 Jun 2027",
            "Thu 30 Sep 2027",
            "Fri 31 Dec 2027",
        ],
        filled: &["2026-12-31", "2027-03-31", "2027-06-30", "2027-09-30"],
        again: "last_working_day",
    },
    Saying {
        name: "Flow in October",
        pattern: "in_months",
        say: |desk| {
            desk.hand.tick("#months-10");
            desk.hand.fill("#month_day", "15");
            desk.hand.fill("#start", FIRST_DAY);
        },
        sentence: "Every year on 15 October.",
        first_dates: &["Fri 15 Oct 2027", "Sun 15 Oct 2028"],
        filled: &["2027-10-15"],
        again: "in_months",
    },
    Saying {
        name: "Flow twice in summer",
        pattern: "season",
        say: |desk| {
            desk.hand.choose("#season_from", "April");
            desk.hand.choose("#season_to", "September");
            desk.hand.fill("#season_times", "2");
            desk.hand.fill("#start", FIRST_DAY);
        },
        sentence: "Every year on 1 April and 1 July.",
        first_dates: &["Thu 1 Apr 2027", "Thu 1 Jul 2027", "Sat 1 Apr 2028"],
        filled: &["2027-04-01", "2027-07-01"],
        again: "in_months",
    },
];

#[test]
fn each_plain_saying_becomes_a_sentence_dates_and_a_year_and_is_stored_as_it_was_shown() {
    let office = Office::new(sqlite());
    let desk = office.sit_down(By::Keyboard);
    for saying in &SAYINGS {
        make(&desk, saying);
    }
    desk.chrome.open(&format!("{}/schedules", office.server.address));
    let listed = desk.texts("#own ~ table tbody th");
    for saying in &SAYINGS {
        assert!(listed.iter().any(|name| name == saying.name), "{listed:?}");
    }
    desk.is_clean();
}

fn make(desk: &Desk<'_>, saying: &Saying) {
    let (hand, chrome) = (&desk.hand, desk.chrome);
    chrome.open(&format!("{}/schedules", desk.office.server.address));
    hand.press("Add a schedule");
    hand.fill("#name", saying.name);
    hand.mark(&format!("#pattern-{}", saying.pattern));
    let shown = desk.texts(".says label, .says legend");
    assert!(!shown.iter().any(|label| label == "Rule"), "{shown:?}");
    desk.look(&format!("form-{}", saying.pattern));
    (saying.say)(desk);
    hand.fill("#lead_days", "14");
    hand.fill("#grace_days", "14");
    desk.tick_check("Lavatory", "faucet_flow");
    hand.press("See what it would do");
    let sentence = desk.text(".rule-said");
    assert!(sentence.starts_with(saying.sentence), "{sentence}");
    let dates = desk.texts(".dates li");
    assert_eq!(dates.len(), 12, "{dates:?}");
    assert_eq!(&dates[..saying.first_dates.len()], saying.first_dates);
    assert_eq!(desk.filled_days(), saying.filled, "{}", saying.name);
    hand.press("Add the schedule");
    chrome.expect("Schedule added.");
    assert_eq!(desk.text("h1"), saying.name);
    assert_eq!(desk.text(".rule-said"), sentence, "what was looked at is stored");
    let stored = desk.texts(".dates li");
    if saying.pattern == "after_last" {
        assert!(
            stored.is_empty(),
            "the dates of an interval follow from work: {stored:?}"
        );
    } else {
        assert!(stored[0].starts_with(saying.first_dates[0]), "{stored:?}");
        assert_eq!(desk.filled_days(), saying.filled);
    }
    hand.press("Change the schedule");
    let marked = desk
        .chrome
        .script("return document.querySelector('input[name=pattern]:checked').value");
    assert_eq!(
        marked, saying.again,
        "a rule is recognised as a saying that makes it"
    );
}
