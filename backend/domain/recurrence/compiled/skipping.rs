//! Monthly rules that move a day which does not exist (RFC 7529's SKIP): a month is a mask of 64 bits,
//! bit 0 the last day before it, bit 1 its first day, and the bit past its last day the next month's first.
//!
//! One month's days never come after the next one's, so the months are looked through in order.

use super::HORIZON_MONTH;
use super::stride::Stride;
use super::wanted::Wanted;
use crate::domain::recurrence::calendar::{first_of_month, is_leap, month_kind, month_length};

/// The months looked into from `start` on, and a mask by leap year, month and weekday of the first.
#[derive(Debug, Clone)]
pub(super) struct Skipping {
    pub(super) stride: Stride,
    start: i32,
    masks: Box<[u64; 168]>,
}

impl Skipping {
    pub(super) fn new(stride: Stride, start: i32, wanted: &Wanted) -> Self {
        let mut masks = Box::new([0; 168]);
        for (at, mask) in masks.iter_mut().enumerate() {
            let (weekday, month0) = ((at % 7) as i32, (at / 7 % 12) as i32);
            let year = if at >= 84 { 2000 } else { 2001 };
            let before = month_length(year, (month0 + 11) % 12);
            *mask = wanted.moved_month_mask(before, month_length(year, month0), weekday);
        }
        Self { stride, start, masks }
    }

    fn mask(&self, month: i32) -> u64 {
        let leap = usize::from(is_leap(month / 12));
        let at = (leap * 12 + (month % 12) as usize) * 7 + month_kind(month) % 7;
        self.masks.get(at).copied().unwrap_or(0)
    }

    /// The first occurrence on or after a day number that lies in `month`.
    pub(super) fn next(&self, day: i32, month: i32) -> Option<i32> {
        let mut at = self.stride.at_or_after((month - 1).max(self.start));
        while at <= HORIZON_MONTH {
            let zero = first_of_month(at) - 1;
            let from = (day - zero).max(0) as u32;
            let left = self.mask(at) & u64::MAX.checked_shl(from).unwrap_or(0);
            if left != 0 {
                return Some(zero + left.trailing_zeros() as i32);
            }
            at = self.stride.at_or_after(at + 1);
        }
        None
    }

    /// The last occurrence before a day number that lies in `month`.
    pub(super) fn previous(&self, day: i32, month: i32) -> Option<i32> {
        let mut at = self.stride.at_or_before(month + 1);
        while at >= self.start {
            let zero = first_of_month(at) - 1;
            let to = (day - zero).clamp(0, 63) as u32;
            let left = self.mask(at) & ((1 << to) - 1);
            if left != 0 {
                return Some(zero + 63 - left.leading_zeros() as i32);
            }
            at = self.stride.at_or_before(at - 1);
        }
        None
    }
}
