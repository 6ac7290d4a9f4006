//! A building's working days and closings as typed, in a form, a file or a command, and what they mean once every field was read.

use chrono::NaiveDate;

use super::{Closing, ClosingKind, LONGEST_CLOSING_DAYS, WorkingDays};
use crate::domain::code::{Coded, words};
use crate::domain::due::plain::DayOfWeek;
use crate::domain::field::FieldError;
use crate::domain::recurrence::Rule;
use crate::domain::register::typed::{Typed, iso_date};

words! {
    /// How often a building is closed for one reason.
    Repeats "way to repeat" {
        Yearly = "yearly", "Every year on that day";
        Once = "once", "Once";
        Rule = "rule", "By a rule as text";
    }
}

/// The rule of what is every year on its day.
const YEARLY: &str = "FREQ=YEARLY";

/// A closing as typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ClosingText {
    /// Code of the kind, field `kind`; empty for a public holiday.
    pub kind: String,
    /// Field `name`.
    pub name: String,
    /// First day, field `start`.
    pub start: String,
    /// Code of [`Repeats`], field `repeats`; empty for what the rule says.
    pub repeats: String,
    /// RFC 5545 rule text, field `rule`; empty for once.
    pub rule: String,
    /// Field `days`; empty for 1.
    pub days: String,
}

impl ClosingText {
    /// A closing as a form or a file shows it.
    #[must_use]
    pub fn of(closing: &Closing) -> Self {
        let rule = closing.rule.as_ref().map_or("", Rule::text);
        let repeats = match rule {
            "" => Repeats::Once,
            YEARLY => Repeats::Yearly,
            _ => Repeats::Rule,
        };
        Self {
            kind: closing.kind.code().to_owned(),
            name: closing.name.clone(),
            start: closing.start.to_string(),
            repeats: repeats.code().to_owned(),
            rule: rule.to_owned(),
            days: closing.days.to_string(),
        }
    }

    /// Reads what was typed.
    ///
    /// ```
    /// # use anglestop::domain::due::ClosingText;
    /// let memorial = ClosingText {
    ///     name: "Last Monday of May".into(),
    ///     start: "2026-01-01".into(),
    ///     rule: "FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO".into(),
    ///     ..ClosingText::default()
    /// };
    /// let read = memorial.read().map_err(|errors| format!("{errors:?}"))?;
    /// assert_eq!(read.begun_before("2027-05-31".parse()?), Some("2027-05-31".parse()?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// A sentence for each field that can't be used.
    pub fn read(&self) -> Result<Closing, Vec<FieldError>> {
        let mut typed = Typed::new();
        let kind = typed.choice("kind", &self.kind, ClosingKind::PublicHoliday);
        let name = typed.needed("name", "Name", &self.name, 80);
        let longest = i64::from(LONGEST_CLOSING_DAYS);
        let days = typed
            .whole("days", "Days", &self.days, 1..=longest)
            .and_then(|days| u16::try_from(days).ok())
            .unwrap_or(1);
        let start = self.read_start(&mut typed);
        let rule = start.and_then(|start| self.read_rule(&mut typed, start));
        typed.finish(Closing {
            kind,
            name,
            start: start.unwrap_or_default(),
            rule,
            days,
        })
    }

    fn read_start(&self, typed: &mut Typed) -> Option<NaiveDate> {
        let text = self.start.trim();
        let start = iso_date(text);
        if start.is_none() {
            typed.refuse(
                "start",
                if text.is_empty() {
                    "First day is empty. Give the day it begins, such as 2026-07-04.".to_owned()
                } else {
                    format!("First day “{text}” is not a date. Write year-month-day, such as 2026-07-04.")
                },
            );
        }
        start
    }

    fn read_rule(&self, typed: &mut Typed, start: NaiveDate) -> Option<Rule> {
        let given = self.rule.trim();
        let fallback = if given.is_empty() {
            Repeats::Once
        } else {
            Repeats::Rule
        };
        let text = match typed.choice("repeats", &self.repeats, fallback) {
            Repeats::Once => return None,
            Repeats::Yearly => YEARLY,
            Repeats::Rule if given.is_empty() => {
                typed.refuse(
                    "rule",
                    "Rule is empty. Give one such as FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO, or choose another way to repeat.",
                );
                return None;
            }
            Repeats::Rule => given,
        };
        match Rule::parse(text, start) {
            Ok(rule) => Some(rule),
            Err(error) => {
                typed.refuse("rule", format!("{error}."));
                None
            }
        }
    }
}

/// Reads working days: codes MO to SU between spaces, at least one.
///
/// # Errors
/// A sentence for field `working_days`.
pub fn read_working_days<'a>(
    codes: impl IntoIterator<Item = &'a str>,
) -> Result<WorkingDays, Vec<FieldError>> {
    let mut typed = Typed::new();
    let mut days: Vec<DayOfWeek> = Vec::new();
    for word in codes.into_iter().flat_map(str::split_whitespace) {
        match DayOfWeek::from_code(&word.to_uppercase()) {
            Ok(day) => days.push(day),
            Err(sentence) => typed.refuse("working_days", sentence),
        }
    }
    let read = WorkingDays::of(&days);
    if read.is_none() {
        typed.refuse(
            "working_days",
            "No working day is chosen. Choose at least one day of the week.",
        );
    }
    typed.finish(read.unwrap_or_default())
}
