//! Instants and deadlines of deficiencies as people read them, on the building's clock.

use chrono::NaiveDateTime;
use chrono_tz::Tz;

use crate::clock::Now;
use crate::domain::result::deficiency::time_in_words;
use crate::language::{self, Language};

/// An instant as `Wed 25 Nov, 12:00` on the clock of `zone`.
#[must_use]
pub fn instant(at: NaiveDateTime, now: Now, zone: Tz) -> String {
    let local = at.and_utc().with_timezone(&zone);
    format!(
        "{}, {}",
        language::day(local.date_naive(), now.date_in(zone)),
        local.format("%H:%M")
    )
}

/// A deadline as `5 h left, by Wed 25 Nov, 12:00`.
#[must_use]
pub fn until(correct_by: Option<NaiveDateTime>, now: Now, zone: Tz) -> String {
    match correct_by {
        None => "no deadline".to_owned(),
        Some(by) => format!("{}, by {}", time_in_words(by - now.0), instant(by, now, zone)),
    }
}

/// A deadline as a language reads it.
#[must_use]
pub fn until_in(language: Language, correct_by: Option<NaiveDateTime>, now: Now, zone: Tz) -> String {
    let Some(by) = correct_by else {
        return language.say("due-no-deadline").into();
    };
    let said = language
        .say("due-by")
        .with("left", language.time_left(by - now.0));
    said.with("moment", language.moment(by, zone, now.date_in(zone)))
        .into()
}

/// Who sees to it: a person of the office, a licensed vendor, or nobody yet where both are empty.
#[must_use]
pub fn sees_to_it(language: Language, person: &str, vendor: &str) -> String {
    match (person, vendor) {
        ("", "") => language.say("nobody-yet").into(),
        ("", vendor) => language.say("deficiency-by-vendor").with("vendor", vendor).into(),
        (person, _) => person.to_owned(),
    }
}

/// How late it is, as a key of the style: `overdue` past the deadline, `due` within a day of it, `in_window` before.
#[must_use]
pub fn lateness(correct_by: Option<NaiveDateTime>, now: Now) -> &'static str {
    match correct_by.map(|by| by - now.0) {
        Some(left) if left < chrono::TimeDelta::zero() => "overdue",
        Some(left) if left < chrono::TimeDelta::hours(24) => "due",
        _ => "in_window",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deadline_is_told_in_hours_and_on_the_buildings_clock() {
        let at = |text: &str| text.parse().unwrap_or_default();
        let now = Now(at("2026-11-25T09:00:00"));
        let words = until(Some(at("2026-11-25T18:00:00")), now, chrono_tz::America::Chicago);
        assert_eq!(words, "9 h left, by Wed 25 Nov, 12:00");
        for minutes in [-90_000, -3_000, -119, -1, 0, 1, 119, 120, 2_879, 2_880, 90_000] {
            let (by, zone) = (
                now.0 + chrono::TimeDelta::minutes(minutes),
                chrono_tz::America::Chicago,
            );
            let said = until_in(Language::ENGLISH, Some(by), now, zone);
            assert_eq!(said, until(Some(by), now, zone));
        }
        let spanish = until_in(
            Language::of("es"),
            Some(at("2026-11-25T18:00:00")),
            now,
            chrono_tz::America::Chicago,
        );
        assert_eq!(spanish, "quedan 9 h, hasta mié 25 nov, 12:00");
    }
}
