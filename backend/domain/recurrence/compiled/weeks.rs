//! Rules whose days are chosen within a week: a week is a mask of seven bits, bit 0 the day WKST names.

use super::HORIZON_DAY;
use super::wanted::Wanted;
use crate::domain::recurrence::calendar::civil;

/// Every `interval`th week from the start's.
#[derive(Debug, Clone)]
pub(super) struct Weeks {
    /// Day number on which the start's week begins, and the days from one such week to the next.
    anchor: i32,
    period: i32,
    mask: u32,
    /// What BYMONTH and BYSETPOS leave depends on where the week lies, when both or either cut it.
    by_month: Option<Wanted>,
}

impl Weeks {
    /// `week_start` counts from Monday 0.
    pub(super) fn new(start: i32, interval: i32, week_start: i32, wanted: &Wanted) -> Self {
        let weekday = crate::domain::recurrence::calendar::weekday(start);
        let anchor = start - (weekday - week_start).rem_euclid(7);
        let plain = (0..7)
            .filter(|day| wanted.weekdays & (1 << ((week_start + day) % 7)) != 0)
            .fold(0_u32, |mask, day| mask | 1 << day);
        let by_month = (wanted.months != 0xFFF).then(|| wanted.clone());
        let mask = match by_month {
            Some(_) => plain,
            None => wanted.at_positions(u64::from(plain)) as u32,
        };
        Self {
            anchor,
            period: interval * 7,
            mask,
            by_month,
        }
    }

    /// The only weekday of an uncut week, as a day number in the start's week.
    pub(super) fn single(&self) -> Option<(i32, i32)> {
        let alone = self.mask.count_ones() == 1 && self.by_month.is_none();
        alone.then(|| (self.anchor + self.mask.trailing_zeros() as i32, self.period))
    }

    #[inline]
    fn mask(&self, begins: i32) -> u32 {
        let Some(wanted) = &self.by_month else {
            return self.mask;
        };
        let in_month = |day: &i32| wanted.months & (1 << (civil(begins + day).0 % 12)) != 0;
        let days = (0..7).filter(|day| self.mask & (1 << day) != 0).filter(in_month);
        wanted.at_positions(days.map(|day| 1 << day).sum()) as u32
    }

    #[inline]
    pub(super) fn next(&self, day: i32) -> Option<i32> {
        let into = (day - self.anchor).rem_euclid(self.period);
        let mut begins = day - into;
        if into < 7 {
            let left = self.mask(begins) >> into;
            if left != 0 {
                return Some(day + left.trailing_zeros() as i32);
            }
        }
        begins += self.period;
        while begins <= HORIZON_DAY {
            let mask = self.mask(begins);
            if mask != 0 {
                return Some(begins + mask.trailing_zeros() as i32);
            }
            begins += self.period;
        }
        None
    }

    pub(super) fn previous(&self, day: i32) -> Option<i32> {
        let into = (day - self.anchor).rem_euclid(self.period);
        let mut begins = day - into;
        let mut mask = self.mask(begins) & ((1 << into.min(7)) - 1);
        while begins >= self.anchor {
            if mask != 0 {
                return Some(begins + super::stride::highest(mask));
            }
            begins -= self.period;
            mask = self.mask(begins);
        }
        None
    }
}
