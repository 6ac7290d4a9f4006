//! What the phones that fetched a unit's checklist last said, and when their silence is worth a word. Decides the rule; knows no phone by name.

use chrono::{NaiveDateTime, TimeDelta};

use super::Turnover;

/// So long a phone may be silent before the manager is told.
///
/// # Source
/// Common practice, no source: a weekend between two working days.
pub const PATIENCE: TimeDelta = TimeDelta::days(3);

/// What one phone last said about a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Heard {
    /// UTC, when it last fetched the unit's checklist.
    pub fetched_at: NaiveDateTime,
    /// UTC, when it last said what is unsent there.
    pub heard_at: NaiveDateTime,
    /// Answers and steps that it said are not sent yet.
    pub unsent_answers: usize,
    /// Photos that it said are not sent yet.
    pub unsent_photos: usize,
}

impl Heard {
    /// Whether it is worth a word in this turnover: while that is open, when it fetched the checklist since the opening or holds something that
    /// is not sent; once it is over, when it holds something and fetched the checklist before the end.
    #[must_use]
    pub fn matters(&self, turnover: &Turnover) -> bool {
        let since_the_opening = self.fetched_at >= turnover.opened_at;
        if turnover.stage.is_open() {
            return since_the_opening || self.holds_something();
        }
        let before_the_end = turnover.closed_at.is_none_or(|end| self.fetched_at <= end);
        self.holds_something() && since_the_opening && before_the_end
    }

    /// Whether something is on the phone alone.
    #[must_use]
    pub const fn holds_something(&self) -> bool {
        self.unsent_answers > 0 || self.unsent_photos > 0
    }
}

/// Which of the phones of an open turnover's unit, the one heard last first, have been silent for too long: more than [`PATIENCE`], and it holds
/// something that is not sent or is the one that was heard last. A phone that fetched the unit in passing, and another works on, says nothing.
#[must_use]
pub fn silent(phones: &[Heard], now: NaiveDateTime) -> Vec<bool> {
    let mut rank = 0..;
    phones
        .iter()
        .map(|phone| {
            let is_last_heard = rank.next() == Some(0);
            now - phone.heard_at > PATIENCE && (is_last_heard || phone.holds_something())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap_or_default()
    }

    fn heard(at_text: &str, unsent_answers: usize) -> Heard {
        Heard {
            fetched_at: at("2026-11-20T12:00:00"),
            heard_at: at(at_text),
            unsent_answers,
            unsent_photos: 0,
        }
    }

    #[test]
    fn silence_counts_from_the_third_day_on_and_to_the_second() {
        let phone = [heard("2026-11-22T12:00:00", 0)];
        assert_eq!(
            silent(&phone, at("2026-11-25T12:00:00")),
            [false],
            "three days to the second"
        );
        assert_eq!(silent(&phone, at("2026-11-25T12:00:01")), [true]);
        assert_eq!(silent(&[], at("2026-11-25T12:00:00")), [false; 0]);
    }

    #[test]
    fn a_phone_that_fetched_in_passing_is_silent_without_a_word_while_another_works() {
        let now = at("2026-11-25T12:00:00");
        let (working, passing, holding) = (
            heard("2026-11-25T11:00:00", 2),
            heard("2026-11-20T12:00:00", 0),
            heard("2026-11-20T12:00:00", 1),
        );
        assert_eq!(silent(&[working, passing], now), [false, false]);
        assert_eq!(
            silent(&[working, holding], now),
            [false, true],
            "what it holds is on no other"
        );
    }
}
