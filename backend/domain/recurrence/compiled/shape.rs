//! Which shape a rule takes, and its questions passed on to it.

use chrono::{Datelike, Days, NaiveDate};

use super::HORIZON_DAY;
use super::months::{Months, Thinned};
use super::skipping::Skipping;
use super::stride::Stride;
use super::wanted::Wanted;
use super::weeks::Weeks;
use super::years::Years;
use crate::domain::recurrence::calendar::{civil, new_year};
use crate::domain::recurrence::parts::{Frequency, Parts};

/// The days of a rule without its end, from its start on.
#[derive(Debug, Clone)]
pub(super) enum Shape {
    /// `start`, `start + interval`, …
    Steps {
        start: i32,
        interval: i32,
    },
    Weeks(Weeks),
    Months(Months),
    Skipping(Skipping),
    Years(Years),
}

impl Shape {
    /// `None` when BYSETPOS asks for more than the one day that a day holds.
    pub(super) fn new(parts: &Parts, start: NaiveDate) -> Option<Self> {
        let wanted = Wanted::new(parts, start);
        let interval = i32::try_from(parts.interval).unwrap_or(i32::MAX);
        let first = start.num_days_from_ce();
        Some(match parts.frequency {
            Frequency::Daily => return Self::daily(wanted, first, interval),
            Frequency::Weekly => Self::weekly(parts, &wanted, first, interval),
            Frequency::Monthly => {
                let stride = monthly_stride(month_number(start), interval, wanted.months);
                if wanted.moves_days() {
                    Self::Skipping(Skipping::new(stride, month_number(start), &wanted))
                } else {
                    Self::Months(Months::new(stride, &wanted, None))
                }
            }
            Frequency::Yearly if wanted.within_months() && !wanted.moves_days() => {
                let stride = yearly_stride(month_number(start), interval, wanted.months);
                Self::Months(Months::new(stride, &wanted, None))
            }
            Frequency::Yearly => Self::Years(Years::new(start.year(), interval, &wanted)),
        })
    }

    /// A set of one day: BYSETPOS=1 and -1 pick it, every other position picks nothing.
    fn daily(mut wanted: Wanted, start: i32, interval: i32) -> Option<Self> {
        let picked = wanted.positions.is_empty() || wanted.positions.iter().any(|at| at.abs() == 1);
        if !picked {
            return None;
        }
        wanted.positions.clear();
        if wanted.is_every_day() {
            return Some(Self::Steps { start, interval });
        }
        let thinned = (interval > 1).then(|| Thinned::new(start, interval));
        let stride = monthly_stride(0, 1, wanted.months);
        Some(Self::Months(Months::new(stride, &wanted, thinned)))
    }

    fn weekly(parts: &Parts, wanted: &Wanted, start: i32, interval: i32) -> Self {
        if interval == 1 && wanted.months != 0xFFF && wanted.positions.is_empty() {
            let stride = Stride::InYear {
                filter: wanted.months,
            };
            return Self::Months(Months::new(stride, wanted, None));
        }
        let week_start = parts.week_start.num_days_from_monday();
        let weeks = Weeks::new(start, interval, i32::try_from(week_start).unwrap_or(0), wanted);
        match weeks.single() {
            // Counted from a day on or before the start, so that no distance is negative.
            Some((day, interval)) => Self::Steps {
                start: if day > start { day - interval } else { day },
                interval,
            },
            None => Self::Weeks(weeks),
        }
    }

    /// The first day on or after a day number that is not before the start.
    #[inline]
    pub(super) fn next(&self, day: i32) -> Option<i32> {
        match self {
            Self::Steps { start, interval } => Some(step(day, *start, *interval)),
            Self::Weeks(weeks) => weeks.next(day),
            Self::Months(months) => {
                let (month, of_month) = civil(day);
                let (found, found_day) = months.next(month, of_month)?;
                if found == month {
                    return Some(day + (found_day - of_month) as i32);
                }
                Some(crate::domain::recurrence::calendar::first_of_month(found) + found_day as i32 - 1)
            }
            Self::Skipping(months) => months.next(day, civil(day).0),
            Self::Years(years) => {
                let year = civil(day).0 / 12;
                let (year, place) = years.next(year, day - new_year(year) + 1)?;
                Some(new_year(year) + place - 1)
            }
        }
    }

    /// As [`Shape::next`], without a detour over day numbers where the shape has no use for them.
    #[inline]
    pub(super) fn next_date(&self, day: NaiveDate) -> Option<NaiveDate> {
        match self {
            Self::Steps { start, interval } => {
                let number = day.num_days_from_ce();
                let ahead = step(number, *start, *interval) - number;
                day.checked_add_days(Days::new(u64::from(ahead.unsigned_abs())))
            }
            Self::Months(months) => {
                let (month, of_month) = months.next(month_number(day), day.day())?;
                NaiveDate::from_ymd_opt(month / 12, (month % 12 + 1) as u32, of_month)
            }
            _ => self.next(day.num_days_from_ce()).map(super::date),
        }
    }

    /// The last day before a day number that lies after the first occurrence.
    pub(super) fn previous(&self, day: i32) -> Option<i32> {
        match self {
            Self::Steps { start, interval } => (day > *start).then(|| day - 1 - (day - 1 - start) % interval),
            Self::Weeks(weeks) => weeks.previous(day),
            Self::Months(months) => {
                let (month, of_month) = civil(day);
                let (found, found_day) = months.previous(month, of_month, 0)?;
                Some(crate::domain::recurrence::calendar::first_of_month(found) + found_day as i32 - 1)
            }
            Self::Skipping(months) => months.previous(day, civil(day).0),
            Self::Years(years) => {
                let year = civil(day).0 / 12;
                let (year, place) = years.previous(year, day - new_year(year) + 1)?;
                Some(new_year(year) + place - 1)
            }
        }
    }

    /// How many days lie between two, both included; the first is not before the first occurrence.
    pub(super) fn count(&self, from: i32, to: i32) -> usize {
        if from > to {
            return 0;
        }
        match self {
            Self::Steps { start, interval } => {
                let begin = step(from, *start, *interval);
                if begin > to {
                    0
                } else {
                    ((to - begin) / interval) as usize + 1
                }
            }
            Self::Months(months) => months.count(civil(from), civil(to)) as usize,
            _ => {
                let days = std::iter::successors(self.next(from), |day| self.next(day + 1));
                days.take_while(|day| *day <= to).count()
            }
        }
    }

    /// The `count`th day, `first` being the first; `None` when it lies beyond the horizon.
    pub(super) fn nth(&self, first: i32, count: u32) -> Option<i32> {
        let wanted = usize::try_from(count).unwrap_or(usize::MAX);
        // Search outward in doubling spans, then inward: what is counted is months, not occurrences.
        let mut span = 366;
        while self.count(first, (first + span).min(HORIZON_DAY)) < wanted {
            if first + span >= HORIZON_DAY {
                return None;
            }
            span *= 2;
        }
        let (mut low, mut high) = (first, (first + span).min(HORIZON_DAY));
        while low < high {
            let middle = low + (high - low) / 2;
            if self.count(first, middle) < wanted {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        Some(low)
    }
}

fn month_number(day: NaiveDate) -> i32 {
    day.year() * 12 + day.month0() as i32
}

#[inline]
fn step(day: i32, start: i32, interval: i32) -> i32 {
    let over = (day - start) as u32 % interval as u32;
    if over == 0 {
        day
    } else {
        day + interval - over as i32
    }
}

fn monthly_stride(start: i32, interval: i32, filter: u32) -> Stride {
    match (interval, filter) {
        (1, 0xFFF) => Stride::Every { start, interval },
        (1, _) => Stride::InYear { filter },
        (_, 0xFFF) => Stride::Every { start, interval },
        _ => Stride::Sifted {
            start,
            interval,
            filter,
        },
    }
}

fn yearly_stride(start: i32, interval: i32, filter: u32) -> Stride {
    let start_year = start / 12;
    if filter.count_ones() == 1 {
        let interval = interval * 12;
        let named = start_year * 12 + filter.trailing_zeros() as i32;
        // Distances are never negative: a month named after the start's counts from one period before.
        return Stride::Every {
            start: if named > start { named - interval } else { named },
            interval,
        };
    }
    if interval == 1 {
        return Stride::InYear { filter };
    }
    Stride::InYears {
        start_year,
        interval,
        filter,
    }
}
