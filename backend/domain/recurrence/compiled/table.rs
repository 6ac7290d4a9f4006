//! The next occurrence of every day of a span, worked out once for a rule that many rows share.

use chrono::{Datelike, Days, NaiveDate};

use super::Compiled;

/// The longest span a table holds, in days: offsets are 16 bits, and the largest says "none".
pub const LONGEST_TABLE_DAYS: u32 = 65_534;

/// For each day of a span, the next occurrence on or after it, as 16-bit offsets from the span's first day.
///
/// A table of five years takes 4 KiB and is made in microseconds. Asking it is one load, so rows should
/// come grouped by rule ([`DayTable::next_for_all`]).
#[derive(Debug, Clone)]
pub struct DayTable {
    from: NaiveDate,
    next: Vec<u16>,
}

impl DayTable {
    /// What [`DayTable::next_for_all`] writes where nothing follows within the table's reach.
    pub const NONE: u16 = u16::MAX;

    /// Occurrences later than [`LONGEST_TABLE_DAYS`] after `from` count as none; a longer span is cut there.
    pub(super) fn new(compiled: &Compiled, from: NaiveDate, to: NaiveDate) -> Self {
        let first = from.num_days_from_ce();
        let longest = LONGEST_TABLE_DAYS as i32;
        let days = (to.num_days_from_ce() - first + 1).clamp(0, longest);
        let mut next = vec![Self::NONE; days as usize];
        let mut filled = 0;
        let mut at = compiled.next_number(first);
        while let Some(found) = at
            && found - first < longest
            && filled < next.len()
        {
            let offset = (found - first) as u16;
            let upto = (usize::from(offset) + 1).min(next.len());
            if let Some(span) = next.get_mut(filled..upto) {
                span.fill(offset);
            }
            filled = upto;
            at = compiled.next_number(found + 1);
        }
        Self { from, next }
    }

    /// The first day of the span: offsets count from it.
    #[must_use]
    pub fn from(&self) -> NaiveDate {
        self.from
    }

    /// A day as an offset, when the span holds it.
    #[must_use]
    pub fn offset_of(&self, day: NaiveDate) -> Option<u16> {
        let offset = u16::try_from((day - self.from).num_days()).ok()?;
        (usize::from(offset) < self.next.len()).then_some(offset)
    }

    /// The day of an offset.
    #[must_use]
    pub fn day_of(&self, offset: u16) -> NaiveDate {
        self.from + Days::new(u64::from(offset))
    }

    /// The first occurrence on or after a day given as an offset, as an offset; [`DayTable::NONE`] for none.
    #[must_use]
    #[inline]
    pub fn next_offset(&self, offset: u16) -> u16 {
        self.next.get(usize::from(offset)).copied().unwrap_or(Self::NONE)
    }

    /// The first occurrence on or after a day of the span.
    #[must_use]
    pub fn next_on_or_after(&self, day: NaiveDate) -> Option<NaiveDate> {
        let found = self.next_offset(self.offset_of(day)?);
        (found != Self::NONE).then(|| self.day_of(found))
    }

    /// The first occurrence on or after each of many offsets, in order: the rows of one rule at once.
    ///
    /// The shorter of the two slices decides how many are answered.
    pub fn next_for_all(&self, asked: &[u16], found: &mut [u16]) {
        for (found, asked) in found.iter_mut().zip(asked) {
            *found = self.next_offset(*asked);
        }
    }
}
