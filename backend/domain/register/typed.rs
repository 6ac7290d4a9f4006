//! Reads fields as people typed them, one sentence a refusal, all refusals of a record together.
//! Decides lengths, characters and the span of believable dates; knows no entity.

use chrono::{Months, NaiveDate};

use crate::domain::code::Coded;
use crate::domain::field::FieldError;

/// The first day that a record may speak of: older plumbing is entered without a date.
pub const EARLIEST: NaiveDate = match NaiveDate::from_ymd_opt(1850, 1, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

/// Collects what is wrong while a record is read.
#[derive(Debug, Default)]
pub struct Typed {
    errors: Vec<FieldError>,
}

impl Typed {
    /// Nothing is wrong yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Notes what is wrong with a field.
    pub fn refuse(&mut self, field: &str, message: impl Into<String>) {
        self.errors.push(FieldError::new(field, message));
    }

    /// The record, when nothing was wrong with it.
    ///
    /// # Errors
    /// Everything that was wrong, in the order of reading.
    pub fn finish<T>(self, record: T) -> Result<T, Vec<FieldError>> {
        if self.errors.is_empty() {
            Ok(record)
        } else {
            Err(self.errors)
        }
    }

    /// One line of text, which may be empty.
    pub fn line(&mut self, field: &str, label: &str, given: &str, longest: usize) -> String {
        let text = given.trim();
        if text.chars().any(char::is_control) {
            self.refuse(
                field,
                format!("{label} must be one line without tabs or other control characters."),
            );
        }
        self.bounded(field, label, text, longest)
    }

    /// One line of text that must say something.
    pub fn needed(&mut self, field: &str, label: &str, given: &str, longest: usize) -> String {
        if given.trim().is_empty() {
            self.refuse(field, format!("{label} is empty. Fill it in."));
        }
        self.line(field, label, given, longest)
    }

    /// Text of several lines, which may be empty.
    pub fn lines(&mut self, field: &str, label: &str, given: &str, longest: usize) -> String {
        let text = given.replace("\r\n", "\n");
        let text = text.trim();
        if text.chars().any(|c| c.is_control() && c != '\n') {
            self.refuse(
                field,
                format!("{label} holds a control character. Type it without."),
            );
        }
        self.bounded(field, label, text, longest)
    }

    fn bounded(&mut self, field: &str, label: &str, text: &str, longest: usize) -> String {
        let length = text.chars().count();
        if length > longest {
            self.refuse(
                field,
                format!(
                    "{label} has {length} characters, at most {longest} fit. Shorten it by {}.",
                    length - longest
                ),
            );
        }
        text.to_owned()
    }

    /// A whole number within limits, nothing when empty.
    pub fn whole(
        &mut self,
        field: &str,
        label: &str,
        given: &str,
        limits: std::ops::RangeInclusive<i64>,
    ) -> Option<i64> {
        let text = given.trim();
        if text.is_empty() {
            return None;
        }
        let (low, high) = (limits.start(), limits.end());
        match text.parse::<i64>() {
            Ok(number) if limits.contains(&number) => Some(number),
            Ok(number) => {
                self.refuse(
                    field,
                    format!("{label} is {number}, but must be from {low} to {high}."),
                );
                None
            }
            Err(_) => {
                self.refuse(
                    field,
                    format!("{label} “{text}” is not a whole number. Give one from {low} to {high}."),
                );
                None
            }
        }
    }

    /// One of the codes of an enum; `fallback` when empty.
    pub fn choice<T: Coded>(&mut self, field: &str, given: &str, fallback: T) -> T {
        let text = given.trim();
        if text.is_empty() {
            return fallback;
        }
        T::from_code(text).unwrap_or_else(|sentence| {
            self.refuse(field, sentence);
            fallback
        })
    }

    /// A date as `2026-02-03` from [`EARLIEST`] to `latest`, nothing when empty. `too_late` is the sentence's end when it lies
    /// after that: "that is in the future".
    pub fn date(
        &mut self,
        field: &str,
        label: &str,
        given: &str,
        latest: NaiveDate,
        too_late: &str,
    ) -> Option<NaiveDate> {
        let text = given.trim();
        if text.is_empty() {
            return None;
        }
        let Some(date) = iso_date(text) else {
            self.refuse(
                field,
                format!("{label} “{text}” is not a date. Write year-month-day, such as 2026-02-03."),
            );
            return None;
        };
        self.within(field, label, date, latest, too_late)
    }

    /// A date that lies from [`EARLIEST`] to `latest`.
    pub fn within(
        &mut self,
        field: &str,
        label: &str,
        date: NaiveDate,
        latest: NaiveDate,
        too_late: &str,
    ) -> Option<NaiveDate> {
        if date < EARLIEST {
            self.refuse(
                field,
                format!("{label} is {date}, before {EARLIEST}. Leave it empty when it is not known."),
            );
            return None;
        }
        if date > latest {
            self.refuse(
                field,
                format!("{label} is {date}: {too_late}. Give a day up to {latest}."),
            );
            return None;
        }
        Some(date)
    }
}

/// A date as `2026-02-03`, with all its digits.
#[must_use]
pub fn iso_date(text: &str) -> Option<NaiveDate> {
    if text.len() != 10 {
        return None;
    }
    NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()
}

/// The last day that plans may speak of: a year from `today`.
#[must_use]
pub fn a_year_ahead(today: NaiveDate) -> NaiveDate {
    today.checked_add_months(Months::new(12)).unwrap_or(today)
}

/// A short code of a portfolio or building, in capitals: letters, digits and hyphens, a letter or digit first, at most 16.
pub fn short_code(typed: &mut Typed, field: &str, label: &str, given: &str) -> String {
    let code = given.trim().to_uppercase();
    let fits = (1..=16).contains(&code.len())
        && code
            .chars()
            .all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-')
        && !code.starts_with('-')
        && !code.ends_with('-');
    if code.is_empty() {
        typed.refuse(
            field,
            format!("{label} is empty. Give a short one, such as ALDER."),
        );
    } else if !fits {
        typed.refuse(
            field,
            format!("{label} “{}” can't be used. Take 1 to 16 letters A to Z, digits and hyphens, such as ALDER or OAK-2.", given.trim()),
        );
    }
    code
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_kept_in_capitals_and_refused_with_other_characters() {
        let mut typed = Typed::new();
        assert_eq!(short_code(&mut typed, "code", "Code", " oak-2 "), "OAK-2");
        for bad in ["", "OAK 2", "ÖL", "-A", "A-", "ABCDEFGHIJKLMNOPQ", "A/B"] {
            let mut typed = Typed::new();
            short_code(&mut typed, "code", "Code", bad);
            assert!(typed.finish(()).is_err(), "{bad}");
        }
        assert!(typed.finish(()).is_ok());
    }

    #[test]
    fn a_date_is_read_with_all_its_digits_only() {
        assert!(iso_date("2026-02-03").is_some());
        for bad in ["2026-2-3", "03.02.2026", "2026-02-30", "26-02-03", "2026-02-033"] {
            assert_eq!(iso_date(bad), None, "{bad}");
        }
    }

    #[test]
    fn every_refusal_of_a_record_is_told() {
        let mut typed = Typed::new();
        typed.needed("name", "Name", "  ", 10);
        typed.whole("floor", "Floor", "third", -5..=200);
        typed.line("maker", "Maker", "tab\tbed", 40);
        let errors = typed.finish(()).err().unwrap_or_default();
        assert_eq!(
            errors
                .iter()
                .map(|error| error.field.as_str())
                .collect::<Vec<_>>(),
            ["name", "floor", "maker"]
        );
    }
}
