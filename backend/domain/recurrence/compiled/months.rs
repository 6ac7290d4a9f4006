//! Rules whose days are chosen within one month: a month is a mask of 32 bits, bit 0 its first day.
//!
//! What BYMONTHDAY, BYDAY and BYSETPOS leave of a month depends on its length and the weekday of its
//! first day alone, so 28 masks hold every month there is. They are made when the rule is compiled.

use super::HORIZON_MONTH;
use super::stride::{Stride, highest};
use super::wanted::Wanted;
use crate::domain::recurrence::calendar::{MONTH_KINDS, first_of_month, month_kind};

/// The months looked into, and the mask for each kind of month.
#[derive(Debug, Clone)]
pub(super) struct Months {
    pub(super) stride: Stride,
    pub(super) masks: [u32; MONTH_KINDS],
    /// Only every nth day from the start, besides.
    pub(super) thinned: Option<Thinned>,
}

/// Days `start`, `start + interval`, … as a mask over any month.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thinned {
    start: i32,
    interval: i32,
    pattern: u32,
}

impl Thinned {
    pub(super) fn new(start: i32, interval: i32) -> Self {
        let multiples = (0..32_i32).filter(|bit| bit % interval == 0);
        Self {
            start,
            interval,
            pattern: multiples.map(|bit| 1 << bit).sum(),
        }
    }

    fn mask(self, first: i32) -> u32 {
        let to_next = (self.start - first).rem_euclid(self.interval);
        self.pattern.checked_shl(to_next as u32).unwrap_or(0)
    }
}

impl Months {
    pub(super) fn new(stride: Stride, wanted: &Wanted, thinned: Option<Thinned>) -> Self {
        let mut masks = [0; MONTH_KINDS];
        for (kind, mask) in masks.iter_mut().enumerate() {
            *mask = wanted.month_mask((kind / 7) as i32 + 28, (kind % 7) as i32);
        }
        Self {
            stride,
            masks,
            thinned,
        }
    }

    /// The occurrences of a month that is looked into.
    #[inline]
    pub(super) fn mask(&self, month: i32) -> u32 {
        let mask = self.masks.get(month_kind(month)).copied().unwrap_or(0);
        match self.thinned {
            None => mask,
            Some(thinned) => mask & thinned.mask(first_of_month(month)),
        }
    }

    /// The first occurrence on or after a day of a month; `None` beyond the horizon.
    #[inline]
    pub(super) fn next(&self, month: i32, day: u32) -> Option<(i32, u32)> {
        let mut at = self.stride.at_or_after(month);
        if at == month {
            let left = self.mask(month) >> (day - 1);
            if left != 0 {
                return Some((month, day + left.trailing_zeros()));
            }
            at = self.stride.at_or_after(month + 1);
        }
        while at <= HORIZON_MONTH {
            let mask = self.mask(at);
            if mask != 0 {
                return Some((at, 1 + mask.trailing_zeros()));
            }
            at = self.stride.at_or_after(at + 1);
        }
        None
    }

    /// The last occurrence before a day of a month, not looking before month `floor`.
    pub(super) fn previous(&self, month: i32, day: u32, floor: i32) -> Option<(i32, u32)> {
        let mut at = self.stride.at_or_before(month);
        if at == month {
            let left = self.mask(month) & ((1 << (day - 1)) - 1);
            if left != 0 {
                return Some((month, 1 + highest(left) as u32));
            }
            at = self.stride.at_or_before(month - 1);
        }
        while at >= floor {
            let mask = self.mask(at);
            if mask != 0 {
                return Some((at, 1 + highest(mask) as u32));
            }
            at = self.stride.at_or_before(at - 1);
        }
        None
    }

    /// Occurrences from one day to another, both included; the first is not before the start.
    pub(super) fn count(&self, from: (i32, u32), to: (i32, u32)) -> u32 {
        let mut counted = 0;
        let mut at = self.stride.at_or_after(from.0);
        while at <= to.0 {
            let mut mask = self.mask(at);
            if at == from.0 {
                mask &= u32::MAX << (from.1 - 1);
            }
            if at == to.0 {
                mask &= u32::MAX >> (32 - to.1);
            }
            counted += mask.count_ones();
            at = self.stride.at_or_after(at + 1);
        }
        counted
    }
}
