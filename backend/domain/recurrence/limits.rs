//! Which parts of a rule go together: RFC 5545 read strictly, because programs take more than
//! the standard allows and then fire on days nobody asked for.
//!
//! It decides on the parts and the start alone; whether a rule ever occurs is found by compiling it.

use chrono::{Datelike, NaiveDate};

use super::error::RuleError;
use super::parts::{Frequency, Parts};
use super::rule::{EARLIEST_START_YEAR, LATEST_START_YEAR};

/// # Errors
///
/// A sentence when RFC 5545 forbids the combination, or when programs read it differently.
pub(super) fn check(parts: &Parts, start: NaiveDate) -> Result<(), RuleError> {
    if !(EARLIEST_START_YEAR..=LATEST_START_YEAR).contains(&start.year()) {
        return Err(RuleError::Start(start));
    }
    check_ends(parts)?;
    check_frequency(parts)?;
    check_days(parts)?;
    if !parts.positions.is_empty() && !parts.narrows() {
        return Err(RuleError::PositionAlone);
    }
    Ok(())
}

fn check_ends(parts: &Parts) -> Result<(), RuleError> {
    if parts.count.is_some() && parts.until.is_some() {
        return Err(RuleError::CountWithUntil);
    }
    let limit = match parts.frequency {
        Frequency::Daily => 36_525,
        Frequency::Weekly => 5_200,
        Frequency::Monthly => 1_200,
        Frequency::Yearly => 100,
    };
    if parts.interval > limit {
        return Err(RuleError::IntervalTooLong {
            interval: parts.interval,
            frequency: parts.frequency.word(),
            limit,
        });
    }
    Ok(())
}

/// RFC 5545, 3.3.10, the table of parts by frequency.
fn check_frequency(parts: &Parts) -> Result<(), RuleError> {
    let refuse = |part, remedy| {
        Err(RuleError::NotWithFrequency {
            part,
            frequency: parts.frequency.word(),
            remedy,
        })
    };
    let yearly = parts.frequency == Frequency::Yearly;
    if !parts.week_numbers.is_empty() && !yearly {
        return refuse("BYWEEKNO", "use FREQ=YEARLY, or leave it out");
    }
    if !parts.year_days.is_empty() && !yearly {
        return refuse("BYYEARDAY", "use FREQ=YEARLY, or leave it out");
    }
    if !parts.month_days.is_empty() && parts.frequency == Frequency::Weekly {
        return refuse("BYMONTHDAY", "use FREQ=MONTHLY, or BYDAY for a day of the week");
    }
    Ok(())
}

fn check_days(parts: &Parts) -> Result<(), RuleError> {
    let Some(counted) = parts.days.iter().find(|day| day.ordinal.is_some()) else {
        return Ok(());
    };
    let plain = super::parts::weekday_code(counted.weekday).to_owned();
    if matches!(parts.frequency, Frequency::Daily | Frequency::Weekly) {
        let frequency = parts.frequency.word();
        return Err(RuleError::OrdinalDay {
            day: counted.to_string(),
            plain,
            frequency,
        });
    }
    if let Some(uncounted) = parts.days.iter().find(|day| day.ordinal.is_none()) {
        return Err(RuleError::MixedDays {
            counted: counted.to_string(),
            plain: uncounted.to_string(),
        });
    }
    if !parts.week_numbers.is_empty() {
        return Err(RuleError::OrdinalDayInWeek(counted.to_string()));
    }
    let within_month = parts.frequency == Frequency::Monthly;
    let too_far = parts
        .days
        .iter()
        .find(|day| day.ordinal.is_some_and(|n| within_month && n.abs() > 5));
    if let Some(day) = too_far {
        return Err(RuleError::Value {
            part: "BYDAY",
            value: day.to_string(),
            expected: "a month has five of a weekday at most, so use 1 to 5 or -5 to -1",
        });
    }
    Ok(())
}
