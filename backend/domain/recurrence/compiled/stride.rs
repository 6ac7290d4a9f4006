//! Which months a rule looks into: every one, every nth from the start, or chosen ones of the year.
//!
//! The next such month is found by division from the start's, never by stepping through those between.

/// Months in arithmetic progression or chosen by name. Months are numbers as in `calendar`.
#[derive(Debug, Clone, Copy)]
pub(super) enum Stride {
    /// `start`, `start + interval`, …
    Every { start: i32, interval: i32 },
    /// The months whose bit is set (bit 0 is January), every year.
    InYear { filter: u32 },
    /// The same, in every `interval`th year from `start_year`.
    InYears {
        start_year: i32,
        interval: i32,
        filter: u32,
    },
    /// Every `interval`th month from `start`, where its bit is set.
    Sifted { start: i32, interval: i32, filter: u32 },
}

impl Stride {
    /// The first such month on or after `month`, which is not before the rule's start.
    #[inline]
    pub(super) fn at_or_after(self, month: i32) -> i32 {
        match self {
            Self::Every { start, interval } => start + round_up(month - start, interval),
            Self::InYear { filter } => month + ahead(filter, month),
            Self::InYears {
                start_year,
                interval,
                filter,
            } => {
                let year = month / 12;
                let over = (year - start_year).rem_euclid(interval);
                let of_year = month % 12;
                if over == 0 && filter >> of_year != 0 {
                    return month + (filter >> of_year).trailing_zeros() as i32;
                }
                (year + interval - over) * 12 + filter.trailing_zeros() as i32
            }
            Self::Sifted {
                start,
                interval,
                filter,
            } => {
                let mut at = start + round_up(month - start, interval);
                // Months of the year come back after twelve steps at most.
                for _ in 0..12 {
                    if filter & (1 << (at % 12)) != 0 {
                        return at;
                    }
                    at += interval;
                }
                i32::MAX
            }
        }
    }

    /// The last such month on or before `month`; it may lie before the rule's start.
    pub(super) fn at_or_before(self, month: i32) -> i32 {
        match self {
            Self::Every { start, interval } => month - (month - start).rem_euclid(interval),
            Self::InYear { filter } => month - behind(filter, month),
            Self::InYears {
                start_year,
                interval,
                filter,
            } => {
                let year = month / 12;
                let over = (year - start_year).rem_euclid(interval);
                let below = filter & ((2 << (month % 12)) - 1);
                if over == 0 && below != 0 {
                    return year * 12 + highest(below);
                }
                let back = if over == 0 { interval } else { over };
                (year - back) * 12 + highest(filter)
            }
            Self::Sifted {
                start,
                interval,
                filter,
            } => {
                let mut at = month - (month - start).rem_euclid(interval);
                for _ in 0..12 {
                    if filter & (1 << (at % 12)) != 0 {
                        return at;
                    }
                    at -= interval;
                }
                i32::MIN
            }
        }
    }
}

/// The least multiple of `interval` that is not below `distance`, for a distance from 0 on.
#[inline]
fn round_up(distance: i32, interval: i32) -> i32 {
    let (distance, interval) = (distance as u32, interval as u32);
    let over = distance % interval;
    (if over == 0 {
        distance
    } else {
        distance + interval - over
    }) as i32
}

/// Months from `month` on to the next whose bit is set.
#[inline]
fn ahead(filter: u32, month: i32) -> i32 {
    let twice = filter | filter << 12;
    (twice >> (month % 12)).trailing_zeros() as i32
}

/// Months from `month` back to the last whose bit is set.
fn behind(filter: u32, month: i32) -> i32 {
    let twice = filter | filter << 12;
    let at = month % 12 + 12;
    at - highest(twice & ((2 << at) - 1))
}

/// Place of the highest bit of a mask that is not empty.
#[inline]
pub(super) fn highest(mask: u32) -> i32 {
    31 - mask.leading_zeros() as i32
}
