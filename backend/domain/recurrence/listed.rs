//! The lines of a rule text: one RRULE, and days added (RDATE) or taken away (EXDATE).
//!
//! It decides which line is which and reads the days. It does not read the rule.
//!
//! # Source
//!
//! RFC 5545, 3.8.5.1 and 3.8.5.2; of their forms only VALUE=DATE, since checks come due by the day.

use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate};

use super::error::RuleError;
use super::rule::{EARLIEST_START_YEAR, LAST_YEAR};

/// A text taken apart.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Lines {
    /// What stands in the one rule line.
    pub(super) rule: String,
    /// Days added and days taken away, each sorted and without repeats.
    pub(super) extra: Vec<NaiveDate>,
    pub(super) except: Vec<NaiveDate>,
}

impl Lines {
    /// # Errors
    ///
    /// When there is no rule line or more than one, another property, or a day that can't be read.
    pub(super) fn read(text: &str) -> Result<Self, RuleError> {
        let mut lines = Self::default();
        for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
            let upper = line.to_ascii_uppercase();
            if let Some(days) = after_name(&upper, "RDATE") {
                lines.extra.extend(days_of("RDATE", days)?);
            } else if let Some(days) = after_name(&upper, "EXDATE") {
                lines.except.extend(days_of("EXDATE", days)?);
            } else if lines.rule.is_empty() {
                line.clone_into(&mut lines.rule);
            } else {
                return Err(RuleError::NotOneRule(text.trim().to_owned()));
            }
        }
        for days in [&mut lines.extra, &mut lines.except] {
            days.sort_unstable();
            days.dedup();
        }
        Ok(lines)
    }

    /// The canonical text, given that of the rule: alone without a name, several lines with theirs.
    pub(super) fn text(&self, rule: &str) -> String {
        if self.extra.is_empty() && self.except.is_empty() {
            return rule.to_owned();
        }
        let mut text = format!("RRULE:{rule}");
        for (name, days) in [("RDATE", &self.extra), ("EXDATE", &self.except)] {
            for (at, day) in days.iter().enumerate() {
                let before = if at == 0 {
                    format!("\n{name};VALUE=DATE:")
                } else {
                    ",".to_owned()
                };
                // Writing to a String cannot fail.
                let _ = write!(text, "{before}{}", day.format("%Y%m%d"));
            }
        }
        text
    }
}

/// What follows a property's name, when the line begins with it.
fn after_name<'a>(line: &'a str, name: &str) -> Option<&'a str> {
    line.strip_prefix(name)
        .filter(|rest| rest.starts_with([':', ';']))
}

fn days_of(property: &'static str, rest: &str) -> Result<Vec<NaiveDate>, RuleError> {
    let refuse = |value: &str| RuleError::ListedDay {
        property,
        value: value.to_owned(),
    };
    let days = rest
        .strip_prefix(";VALUE=DATE:")
        .or_else(|| rest.strip_prefix(':'));
    let days = days.ok_or_else(|| refuse(rest))?.split(',').map(str::trim);
    days.map(|text| {
        let digits = text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit());
        let day = if digits {
            NaiveDate::parse_from_str(text, "%Y%m%d").ok()
        } else {
            None
        };
        day.filter(|day| (EARLIEST_START_YEAR..=LAST_YEAR).contains(&day.year()))
            .ok_or_else(|| refuse(text))
    })
    .collect()
}
