//! A rule in words, as a manager would say it.
//!
//! It says only what it is sure to say rightly: a rule whose parts play together in an unusual way is
//! named by its text. It finds no dates; the first one is given to it.

use chrono::{Datelike, NaiveDate, Weekday};

use super::parts::{Day, Frequency, Parts, Skip};

/// "every year on 1 October", "on the first Monday of every third month, the first on 4 March 2024".
pub(super) fn describe(
    parts: &Parts,
    start: NaiveDate,
    first: NaiveDate,
    last_day: Option<NaiveDate>,
) -> String {
    let Some(mut words) = core(parts, start) else {
        return format!(
            "on the days of the rule {parts}, the first on {}",
            long_date(first)
        );
    };
    if parts.interval > 1 {
        words.push_str(&format!(", the first on {}", long_date(first)));
    }
    match parts.count {
        Some(1) => words.push_str(", once"),
        Some(count) => words.push_str(&format!(", {count} times in all")),
        None => {}
    }
    if let Some(last_day) = last_day {
        words.push_str(&format!(", until {}", long_date(last_day)));
    }
    words
}

/// ", besides on 24 December 2026, not on 31 December 2026"; nothing without such days.
pub(super) fn listed(extra: &[NaiveDate], except: &[NaiveDate]) -> String {
    let said = |words: &str, days: &[NaiveDate]| match days {
        [] => String::new(),
        [..] if days.len() > 3 => format!(", {words} {} named days", days.len()),
        _ => format!(", {words} {}", join(days.iter().map(|day| long_date(*day)))),
    };
    said("besides on", extra) + &said("not on", except)
}

/// What is said of a day that does not exist, when the rule moves it.
fn moved(skip: Skip) -> &'static str {
    match skip {
        Skip::Omit => "",
        Skip::Backward => ", or on the last day before it where there is none",
        Skip::Forward => ", or on the first day after it where there is none",
    }
}

fn core(parts: &Parts, start: NaiveDate) -> Option<String> {
    // Moving one day can be said; moving some of several can't, in plain words.
    if parts.skip != Skip::Omit && (parts.month_days.len() > 1 || !parts.year_days.is_empty()) {
        return None;
    }
    match parts.frequency {
        Frequency::Daily => daily(parts),
        Frequency::Weekly => weekly(parts, start),
        Frequency::Monthly => monthly(parts, start),
        Frequency::Yearly => yearly(parts, start),
    }
}

fn daily(parts: &Parts) -> Option<String> {
    if !parts.month_days.is_empty() || !parts.positions.is_empty() {
        return None;
    }
    let days = match (parts.interval, parts.days.is_empty()) {
        (1, true) => "every day".to_owned(),
        (1, false) => format!("every {}", weekdays(&parts.days)?),
        (interval, true) => format!("every {interval} days"),
        (_, false) => return None,
    };
    Some(days + &in_months(&parts.months))
}

fn weekly(parts: &Parts, start: NaiveDate) -> Option<String> {
    if !parts.positions.is_empty() {
        return None;
    }
    let default = [Day::plain(start.weekday())];
    let days = weekdays(if parts.days.is_empty() {
        &default
    } else {
        &parts.days
    })?;
    let months = in_months(&parts.months);
    match parts.interval {
        1 => Some(format!("every {days}{months}")),
        interval => Some(format!("every {} week on {days}{months}", ordinal_word(interval))),
    }
}

fn monthly(parts: &Parts, start: NaiveDate) -> Option<String> {
    let of = match (parts.interval, parts.months.as_slice()) {
        (1, []) => "every month".to_owned(),
        (interval, []) => format!("every {} month", ordinal_word(interval)),
        (1, months) => join(months.iter().map(|month| month_name(*month).to_owned())),
        _ => return None,
    };
    if let [day] = parts.days.as_slice()
        && parts.month_days == [13]
        && *day == Day::plain(Weekday::Fri)
        && parts.positions.is_empty()
        && parts.interval == 1
        && parts.months.is_empty()
    {
        return Some("every Friday the 13th".to_owned());
    }
    if !parts.days.is_empty() {
        return if parts.month_days.is_empty() {
            Some(days_of(parts, &of)?)
        } else {
            None
        };
    }
    let default = [i16::try_from(start.day()).unwrap_or(1)];
    let days = if parts.month_days.is_empty() {
        &default
    } else {
        parts.month_days.as_slice()
    };
    match (parts.positions.as_slice(), days) {
        ([], [day @ 29..=31]) if parts.months.is_empty() && parts.skip == Skip::Omit => {
            Some(format!("on the {} of {of} that has one", counted(*day)))
        }
        ([], [day @ 29..=31]) if parts.skip != Skip::Omit => {
            Some(format!("on the {} of {of}{}", counted(*day), moved(parts.skip)))
        }
        ([], _) => Some(format!(
            "on the {} of {of}",
            join(days.iter().map(|day| month_day(*day)))
        )),
        ([-1], [28, .., last]) if is_run(days) => Some(format!(
            "on the {} of {of}, or on its last day when it is shorter",
            counted(*last)
        )),
        _ => None,
    }
}

fn yearly(parts: &Parts, start: NaiveDate) -> Option<String> {
    let every = match parts.interval {
        1 => "every year".to_owned(),
        interval => format!("every {} year", ordinal_word(interval)),
    };
    let (weeks, year_days) = (parts.week_numbers.as_slice(), parts.year_days.as_slice());
    if !year_days.is_empty() {
        let alone = weeks.is_empty() && parts.days.is_empty() && parts.month_days.is_empty();
        let plain = alone && parts.months.is_empty() && parts.positions.is_empty();
        let all_forward = year_days.iter().all(|day| *day > 0);
        return (plain && all_forward).then(|| format!("{every} on day {}", join(numbers(year_days))));
    }
    if !weeks.is_empty() {
        let plain = parts.month_days.is_empty() && parts.months.is_empty() && parts.positions.is_empty();
        let forward = plain && weeks.iter().all(|week| *week > 0);
        let default = [Day::plain(start.weekday())];
        let unnamed = parts.days.is_empty() && parts.month_days.is_empty();
        let days = weekdays(if unnamed { &default } else { &parts.days })?;
        return forward.then(|| format!("{every} on {days} of week {}", join(numbers(weeks))));
    }
    if !parts.days.is_empty() {
        return yearly_by_weekday(parts, &every);
    }
    if !parts.positions.is_empty() {
        return None;
    }
    let default_month = [i16::try_from(start.month()).unwrap_or(1)];
    let default_day = [i16::try_from(start.day()).unwrap_or(1)];
    let months = match (parts.months.as_slice(), parts.month_days.is_empty()) {
        ([], true) => default_month.as_slice(),
        ([], false) => return None,
        (months, _) => months,
    };
    let days = if parts.month_days.is_empty() {
        &default_day
    } else {
        parts.month_days.as_slice()
    };
    if months == [2] && days == [29] {
        return Some(match parts.skip {
            Skip::Omit => format!("{every} that has one, on 29 February"),
            skip => format!("{every} on 29 February{}", moved(skip)),
        });
    }
    if parts.skip != Skip::Omit && days.iter().any(|day| day.abs() > 28) {
        return None;
    }
    let dates = months.iter().flat_map(|month| {
        days.iter().map(move |day| match *day {
            ..0 => format!("the {} of {}", month_day(*day), month_name(*month)),
            _ => format!("{day} {}", month_name(*month)),
        })
    });
    Some(format!("{every} on {}", join(dates)))
}

fn yearly_by_weekday(parts: &Parts, every: &str) -> Option<String> {
    if !parts.month_days.is_empty() {
        return None;
    }
    let counted = parts.days.iter().any(|day| day.ordinal.is_some());
    match (parts.months.as_slice(), parts.positions.as_slice()) {
        ([], []) if counted => Some(format!("{every} {}", days_of(parts, "the year")?)),
        ([], []) => None,
        (months, []) if counted => {
            let of = join(months.iter().map(|month| month_name(*month).to_owned()));
            Some(format!("{every} {}", days_of(parts, &of)?))
        }
        (_, []) if parts.interval == 1 => Some(format!(
            "every {}{}",
            weekdays(&parts.days)?,
            in_months(&parts.months)
        )),
        ([month], _) => Some(format!("{every} {}", days_of(parts, month_name(*month))?)),
        _ => None,
    }
}

/// "on the first Monday of …", "on the last working day (Monday to Friday) of …", "on every Monday of …".
fn days_of(parts: &Parts, of: &str) -> Option<String> {
    let counted = parts.days.iter().all(|day| day.ordinal.is_some());
    match (counted, parts.positions.as_slice()) {
        (true, []) => {
            let days = parts.days.iter().map(|day| {
                let place = place(day.ordinal.unwrap_or(1));
                format!("the {place} {}", weekday_name(day.weekday))
            });
            Some(format!("on {} of {of}", join(days)))
        }
        (true, _) => None,
        (false, []) => Some(format!("on every {} of {of}", weekdays(&parts.days)?)),
        (false, positions) => {
            let places = join(positions.iter().map(|position| place(*position)));
            Some(format!("on the {places} {} of {of}", kind_of_day(&parts.days)))
        }
    }
}

/// What BYSETPOS picks from.
fn kind_of_day(days: &[Day]) -> String {
    let working = days
        .iter()
        .filter(|day| !matches!(day.weekday, Weekday::Sat | Weekday::Sun))
        .count();
    match (days.len(), working) {
        (7, _) => "day".to_owned(),
        (5, 5) => "working day (Monday to Friday)".to_owned(),
        (2, 0) => "weekend day".to_owned(),
        _ => {
            let names: Vec<_> = days.iter().map(|day| weekday_name(day.weekday)).collect();
            names.join(" or ")
        }
    }
}

/// Plain weekdays: "Monday and Thursday", "working day (Monday to Friday)"; none when they are counted.
fn weekdays(days: &[Day]) -> Option<String> {
    if days.is_empty() || days.iter().any(|day| day.ordinal.is_some()) {
        return None;
    }
    let kind = kind_of_day(days);
    let many = matches!(days.len(), 5 | 7) && kind.contains("day") && !kind.contains(" or ");
    let names = days.iter().map(|day| weekday_name(day.weekday).to_owned());
    Some(if many { kind } else { join(names) })
}

fn in_months(months: &[i16]) -> String {
    if months.is_empty() {
        return String::new();
    }
    format!(
        " in {}",
        join(months.iter().map(|month| month_name(*month).to_owned()))
    )
}

fn is_run(days: &[i16]) -> bool {
    days.windows(2).all(|pair| matches!(pair, [a, b] if *b == a + 1))
}

fn numbers(list: &[i16]) -> impl Iterator<Item = String> + '_ {
    list.iter().map(ToString::to_string)
}

/// "a", "a and b", "a, b and c".
fn join(items: impl Iterator<Item = String>) -> String {
    let items: Vec<_> = items.collect();
    match items.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

fn month_day(day: i16) -> String {
    match day {
        -1 => "last day".to_owned(),
        ..0 => format!("{} day", place(day)),
        _ => counted(day),
    }
}

/// "first", "20th", "last", "second-last".
fn place(position: i16) -> String {
    let distance = u32::from(position.unsigned_abs());
    match position {
        -1 => "last".to_owned(),
        ..0 => format!("{}-last", ordinal_word(distance)),
        _ => match distance {
            1 => "first".to_owned(),
            _ => ordinal_word(distance),
        },
    }
}

fn ordinal_word(number: u32) -> String {
    let words = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
        "eleventh", "twelfth",
    ];
    let at = usize::try_from(number)
        .ok()
        .and_then(|number| number.checked_sub(1));
    match at.and_then(|at| words.get(at)) {
        Some(word) => (*word).to_owned(),
        None => format!("{number}{}", suffix(number)),
    }
}

fn counted(number: i16) -> String {
    format!("{number}{}", suffix(u32::from(number.unsigned_abs())))
}

/// Names of the months.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

fn suffix(number: u32) -> &'static str {
    match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    }
}

fn long_date(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}

fn month_name(month: i16) -> &'static str {
    let at = usize::try_from(month).ok().and_then(|month| month.checked_sub(1));
    at.and_then(|at| MONTHS.get(at)).copied().unwrap_or("no month")
}

fn weekday_name(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}
