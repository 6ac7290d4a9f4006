//! Dates, counts and times as people read them. English for now; everything a person reads of these kinds comes from here.

use chrono::{Datelike, NaiveDate};

/// A date as `Tue 3 Feb`, with the year when it is not this one.
#[must_use]
pub fn day(date: NaiveDate, today: NaiveDate) -> String {
    let form = if date.year() == today.year() {
        "%a %-d %b"
    } else {
        "%a %-d %b %Y"
    };
    date.format(form).to_string()
}

/// A distance as `today`, `in 5 days`, `1 day ago`.
#[must_use]
pub fn distance(date: NaiveDate, today: NaiveDate) -> String {
    match (date - today).num_days() {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        ahead if ahead > 0 => format!("in {ahead} days"),
        behind => format!("{} days ago", -behind),
    }
}

/// A count with its noun: `1 unit`, `3 units`, `1,240 units`.
#[must_use]
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", grouped(number), if number == 1 { one } else { many })
}

/// A number with its thousands set apart by commas.
#[must_use]
pub fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut out = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(grouped(7), "7");
        assert_eq!(grouped(1_240), "1,240");
        assert_eq!(grouped(1_000_000), "1,000,000");
    }
}
