//! A second reader of the rule text: the `rrule` crate, and the only file that names it.
//!
//! The crate reads what people type for many programs; where it reads a text at all, it must read the
//! same parts as ours, or the rule is refused. It is asked for no date: it walks from the start, in a
//! zone, and takes INTERVAL=0, COUNT with UNTIL and counted weekdays that fire daily. What it cannot
//! read is left to our own reader, which is the stricter one. SKIP and UNTIL are taken off first: it
//! does not know the one, and reads the other in the machine's zone.

use rrule::{NWeekday, RRule, Unvalidated};

use super::error::RuleError;
use super::parts::{Frequency, Parts, Skip};

/// # Errors
///
/// [`RuleError::ReadTwoWays`] when the crate takes a part for something else.
pub(super) fn agrees(parts: &Parts) -> Result<(), RuleError> {
    let plain = Parts {
        until: None,
        skip: Skip::Omit,
        ..parts.clone()
    };
    let text = plain.to_string();
    let Ok(read) = text.parse::<RRule<Unvalidated>>() else {
        return Ok(());
    };
    let frequency = match parts.frequency {
        Frequency::Daily => rrule::Frequency::Daily,
        Frequency::Weekly => rrule::Frequency::Weekly,
        Frequency::Monthly => rrule::Frequency::Monthly,
        Frequency::Yearly => rrule::Frequency::Yearly,
    };
    let days: Vec<_> = parts
        .days
        .iter()
        .map(|day| NWeekday::new(day.ordinal, day.weekday))
        .collect();
    let their_days = read.get_by_weekday();
    let same_days =
        days.iter().all(|day| their_days.contains(day)) && their_days.iter().all(|day| days.contains(day));
    let differs = [
        ("FREQ", read.get_freq() != frequency),
        ("INTERVAL", u32::from(read.get_interval()) != parts.interval),
        ("COUNT", read.get_count() != parts.count),
        ("WKST", read.get_week_start() != parts.week_start),
        ("BYMONTH", !same(read.get_by_month(), &parts.months)),
        ("BYWEEKNO", !same(read.get_by_week_no(), &parts.week_numbers)),
        ("BYYEARDAY", !same(read.get_by_year_day(), &parts.year_days)),
        ("BYMONTHDAY", !same(read.get_by_month_day(), &parts.month_days)),
        ("BYDAY", !same_days),
        ("BYSETPOS", !same(read.get_by_set_pos(), &parts.positions)),
    ];
    match differs.iter().find(|(_, differs)| *differs) {
        None => Ok(()),
        Some((part, _)) => Err(RuleError::ReadTwoWays {
            text: parts.to_string(),
            part,
        }),
    }
}

/// Whether two lists hold the same numbers; the crate orders them in its own way.
fn same<T: Copy + Into<i64>>(theirs: &[T], ours: &[i16]) -> bool {
    let mut theirs: Vec<i64> = theirs.iter().map(|number| (*number).into()).collect();
    let mut ours: Vec<i64> = ours.iter().map(|number| i64::from(*number)).collect();
    for list in [&mut theirs, &mut ours] {
        list.sort_unstable();
        list.dedup();
    }
    theirs == ours
}
