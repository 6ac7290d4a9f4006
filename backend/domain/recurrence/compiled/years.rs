//! Rules whose days are chosen within a whole year: a year is a set of 384 bits.
//!
//! BYWEEKNO, BYYEARDAY, BYDAY counted within the year and BYSETPOS over several months depend on the
//! weekday of 1 January and on which of the year and its neighbours are leap years, so 28 sets hold
//! every year there is.

use super::HORIZON_YEAR;
use super::wanted::{Wanted, YearSet};
use crate::domain::recurrence::calendar::{YEAR_KINDS, YearShape, year_kind, year_length};

/// Every `interval`th year from `start`, and the set for each kind of year. A place is a day of the
/// year from 1; 0 and one past the year's length are days of its neighbours, by RFC 7529's SKIP.
#[derive(Debug, Clone)]
pub(super) struct Years {
    start: i32,
    interval: i32,
    reaches_over: bool,
    sets: Box<[YearSet; YEAR_KINDS]>,
}

impl Years {
    pub(super) fn new(start: i32, interval: i32, wanted: &Wanted) -> Self {
        let mut sets = Box::new([YearSet::default(); YEAR_KINDS]);
        for (kind, set) in sets.iter_mut().enumerate() {
            *set = wanted.year_set(YearShape::of_kind(kind));
        }
        Self {
            start,
            interval,
            reaches_over: wanted.moves_days(),
            sets,
        }
    }

    fn set(&self, year: i32) -> YearSet {
        self.sets.get(year_kind(year)).copied().unwrap_or_default()
    }

    /// The first occurrence on or after a day of a year, not before the start.
    #[inline]
    pub(super) fn next(&self, year: i32, place: i32) -> Option<(i32, i32)> {
        // The year before may reach into this one by a day; its days never come after this one's.
        if self.reaches_over
            && self.looks_into(year - 1)
            && let Some(found) = self.set(year - 1).at_or_after(place + year_length(year - 1))
        {
            return Some((year - 1, found));
        }
        let mut at = year + (self.start - year).rem_euclid(self.interval);
        let mut from = if at == year { place } else { 0 };
        while at <= HORIZON_YEAR {
            if let Some(found) = self.set(at).at_or_after(from) {
                return Some((at, found));
            }
            (at, from) = (at + self.interval, 0);
        }
        None
    }

    /// The last occurrence before a day of a year.
    pub(super) fn previous(&self, year: i32, place: i32) -> Option<(i32, i32)> {
        let mut at = year - (year - self.start).rem_euclid(self.interval);
        while at >= self.start {
            let to = match year - at {
                0 => place,
                1 => place + year_length(at),
                _ => i32::MAX,
            };
            if let Some(found) = self.set(at).before(to) {
                return Some((at, found));
            }
            at -= self.interval;
        }
        None
    }

    fn looks_into(&self, year: i32) -> bool {
        year >= self.start && (year - self.start) % self.interval == 0
    }
}

impl YearSet {
    /// The first day of the set not before `from`.
    #[inline]
    fn at_or_after(&self, from: i32) -> Option<i32> {
        let from = from.max(0) as usize;
        let mut at = from / 64;
        let mut word = *self.words.get(at)? & (u64::MAX << (from % 64));
        while word == 0 {
            at += 1;
            word = *self.words.get(at)?;
        }
        Some((at * 64) as i32 + word.trailing_zeros() as i32)
    }

    /// The last day of the set before `to`.
    fn before(&self, to: i32) -> Option<i32> {
        if to <= 0 {
            return None;
        }
        let last = (to - 1).min(383) as usize;
        let mut at = last / 64;
        let mut word = *self.words.get(at)? & (u64::MAX >> (63 - last % 64));
        while word == 0 {
            at = at.checked_sub(1)?;
            word = *self.words.get(at)?;
        }
        Some((at * 64) as i32 + 63 - word.leading_zeros() as i32)
    }
}
