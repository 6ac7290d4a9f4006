//! When something was done on a phone whose clock may be wrong: corrected by how far the clock was off when it sent, and kept between
//! the fetching of the checklist and the receipt. Decides from instants; knows no phone.

use chrono::{NaiveDateTime, TimeDelta};

/// How far a phone's clock was off when it sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PhoneClock {
    offset: TimeDelta,
    now: NaiveDateTime,
}

impl PhoneClock {
    /// A phone whose clock said `sent` at the instant `now` (both UTC); one that did not say is taken as right.
    #[must_use]
    pub fn at(sent: Option<NaiveDateTime>, now: NaiveDateTime) -> Self {
        Self {
            offset: sent.map_or(TimeDelta::zero(), |sent| now - sent),
            now,
        }
    }

    /// When it was done, UTC: `at` by the phone's clock, corrected, not before the checklist was fetched and not after the receipt. An
    /// instant that nobody can read was the receipt. A fetching in the future is not believed.
    ///
    /// ```
    /// use anglestop::domain::result::PhoneClock;
    /// let at = |text: &str| format!("2026-11-27T{text}").parse().ok();
    /// let now = "2026-11-27T15:00:00".parse()?;
    /// // Two hours fast: what it calls 16:30 was 14:30.
    /// let phone = PhoneClock::at(at("17:00:00"), now);
    /// assert_eq!(phone.done_at(at("16:30:00"), None), "2026-11-27T14:30:00".parse()?);
    /// // Set back in between: never before the checklist was there.
    /// assert_eq!(phone.done_at(at("09:00:00"), at("14:00:00")), "2026-11-27T14:00:00".parse()?);
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    #[must_use]
    pub fn done_at(&self, at: Option<NaiveDateTime>, fetched_at: Option<NaiveDateTime>) -> NaiveDateTime {
        let corrected = at
            .and_then(|at| at.checked_add_signed(self.offset))
            .unwrap_or(self.now);
        let fetched_at = fetched_at.filter(|fetched| *fetched <= self.now);
        let corrected = fetched_at.map_or(corrected, |fetched| corrected.max(fetched));
        corrected.min(self.now)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap_or_default()
    }

    const NOW: &str = "2026-11-27T15:00:00";
    const FETCHED: &str = "2026-11-27T09:00:00";

    fn done(clock: &str, done: &str) -> NaiveDateTime {
        PhoneClock::at(Some(at(clock)), at(NOW)).done_at(Some(at(done)), Some(at(FETCHED)))
    }

    #[test]
    fn a_clock_two_hours_off_is_put_right() {
        assert_eq!(
            done("2026-11-27T17:00:00", "2026-11-27T13:10:00"),
            at("2026-11-27T11:10:00")
        );
        assert_eq!(
            done("2026-11-27T13:00:00", "2026-11-27T09:10:00"),
            at("2026-11-27T11:10:00")
        );
    }

    #[test]
    fn a_clock_years_off_is_put_right() {
        assert_eq!(
            done("1970-01-01T06:00:00", "1970-01-01T02:10:00"),
            at("2026-11-27T11:10:00")
        );
        assert_eq!(
            done("2089-01-01T06:00:00", "2089-01-01T02:10:00"),
            at("2026-11-27T11:10:00")
        );
    }

    #[test]
    fn a_clock_that_jumped_between_gives_nothing_outside_of_what_can_be() {
        // Set right after the answer: what it called 2089 is in the future, and becomes the receipt.
        assert_eq!(done(NOW, "2089-01-01T00:00:00"), at(NOW));
        // Reset to its first day before the answer and set right after it.
        assert_eq!(done(NOW, "1970-01-01T00:00:00"), at(FETCHED));
    }

    #[test]
    fn a_fetching_in_the_future_is_not_believed() {
        let phone = PhoneClock::at(Some(at(NOW)), at(NOW));
        let seen = at("2026-11-27T14:00:00");
        assert_eq!(phone.done_at(Some(seen), Some(at("2026-11-28T09:00:00"))), seen);
    }

    #[test]
    fn what_nobody_can_read_was_the_receipt() {
        let phone = PhoneClock::at(None, at(NOW));
        assert_eq!(phone.done_at(None, None), at(NOW));
        assert_eq!(
            phone.done_at(Some(at("2026-11-27T14:00:00")), None),
            at("2026-11-27T14:00:00")
        );
    }
}
