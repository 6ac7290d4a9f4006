//! Which timings are refused, with which figures, and what early days they get.

use anglestop::domain::due::{Anchor, Timing};
use anglestop::domain::recurrence::Rule;

use super::day;

fn calendar(text: &str, start: &str) -> Anchor {
    Anchor::Calendar(Rule::parse(text, day(start)).unwrap())
}

fn last_done(text: &str) -> Anchor {
    Anchor::LastDone(text.parse().unwrap())
}

fn refusal(anchor: Anchor, lead: u32, grace: u32, early: Option<u32>) -> String {
    Timing::new(anchor, lead, grace, early).unwrap_err().to_string()
}

#[test]
fn lead_and_grace_must_be_shorter_than_the_shortest_gap() {
    let monthly = || calendar("FREQ=MONTHLY", "2026-01-01");
    assert!(Timing::new(monthly(), 14, 13, None).is_ok());
    let words = refusal(monthly(), 14, 14, None);
    for figure in [
        "14 days of lead",
        "14 of grace",
        "28 days together",
        "after 28",
        "at most 27",
    ] {
        assert!(words.contains(figure), "{figure}: {words}");
    }
    assert!(Timing::new(last_done("P6M"), 90, 90, None).is_ok());
    assert!(refusal(last_done("P6M"), 91, 90, None).contains("it can come round again after 181"));
    assert!(Timing::new(last_done("P1D"), 0, 0, None).is_ok());
    assert!(refusal(last_done("P1D"), 0, 1, None).contains("at most 0"));
    assert!(Timing::new(calendar("FREQ=DAILY", "2026-01-01"), 0, 0, None).is_ok());
}

#[test]
fn early_days_are_at_least_the_lead() {
    let yearly = || calendar("FREQ=YEARLY", "2026-10-01");
    assert_eq!(Timing::new(yearly(), 30, 14, Some(30)).unwrap().early_days(), 30);
    let words = refusal(yearly(), 30, 14, Some(29));
    assert!(
        words.contains("29 early days") && words.contains("at least 30"),
        "{words}"
    );
    assert!(refusal(last_done("P1Y"), 30, 14, Some(29)).contains("at least 30"));
}

#[test]
fn early_days_are_half_the_shortest_gap_unless_the_lead_is_longer() {
    let early = |anchor, lead| Timing::new(anchor, lead, 0, None).unwrap().early_days();
    assert_eq!(early(calendar("FREQ=YEARLY", "2026-10-01"), 30), 182);
    assert_eq!(early(calendar("FREQ=YEARLY", "2026-10-01"), 200), 200);
    assert_eq!(early(calendar("FREQ=MONTHLY", "2026-01-01"), 5), 14);
    assert_eq!(early(calendar("FREQ=WEEKLY", "2026-01-05"), 0), 3);
    assert_eq!(early(calendar("FREQ=YEARLY;COUNT=1", "2026-10-01"), 20), 20);
    assert_eq!(early(last_done("P1Y"), 30), 30);
}

#[test]
fn figures_over_ten_years_are_refused() {
    let once = || calendar("FREQ=YEARLY;COUNT=1", "2026-10-01");
    for (lead, grace, early, words) in [
        (4_000, 0, None, "4000 days of lead"),
        (0, u32::MAX, None, "4294967295 days of grace"),
        (0, 0, Some(3_661), "3661 early days"),
    ] {
        let found = refusal(once(), lead, grace, early);
        assert!(found.contains(words) && found.contains("3660"), "{found}");
    }
}

#[test]
fn an_anchor_says_its_text_and_words() {
    let yearly = calendar("RRULE:FREQ=YEARLY;INTERVAL=1", "2026-10-01");
    assert_eq!(
        (yearly.code(), yearly.text().as_str()),
        ("calendar", "FREQ=YEARLY")
    );
    assert_eq!(yearly.describe(), "every year on 1 October");
    let half_year = last_done("p6m");
    assert_eq!(
        (half_year.code(), half_year.text().as_str()),
        ("last_done", "P6M")
    );
    assert_eq!(half_year.describe(), "every 6 months, counted from the last time");
}
