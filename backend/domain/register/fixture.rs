//! What stands, or stood, at a place. Decides its fields and on which days it stood there; knows no check and no history.

use chrono::{Datelike as _, NaiveDate};

use super::typed::{Typed, iso_date};
use super::{FixtureId, TagId};
use crate::domain::code::words;
use crate::domain::field::FieldError;
use crate::domain::trade::FixtureKind;

words! {
    /// Whether a fixture or part still does its work.
    Service "status" {
        InService = "in_service", "In service";
        Retired = "retired", "Retired";
        Replaced = "replaced", "Replaced";
    }
}

/// When something was installed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Installed {
    /// Nobody knows.
    #[default]
    Unknown,
    /// On this local date.
    On(NaiveDate),
    /// About this local date, by estimate.
    About(NaiveDate),
}

impl Installed {
    /// From a date that may be missing and whether it is an estimate, as a row keeps it.
    #[must_use]
    pub fn from_row((date, estimated): (Option<NaiveDate>, bool)) -> Self {
        match date {
            None => Self::Unknown,
            Some(date) if estimated => Self::About(date),
            Some(date) => Self::On(date),
        }
    }

    /// The local date, known or estimated.
    #[must_use]
    pub const fn date(self) -> Option<NaiveDate> {
        match self {
            Self::Unknown => None,
            Self::On(date) | Self::About(date) => Some(date),
        }
    }

    /// Whether the date is an estimate.
    #[must_use]
    pub const fn is_estimated(self) -> bool {
        matches!(self, Self::About(_))
    }

    /// Whole years from the installation to `on`, when it is known or estimated.
    #[must_use]
    pub fn age_years(self, on: NaiveDate) -> Option<u32> {
        self.date().and_then(|date| on.years_since(date))
    }

    /// Reads `installed_on` and `installed_estimated` as typed: a date, or only a year (its middle) or year and month (its middle),
    /// which is an estimate by itself.
    pub fn read(typed: &mut Typed, on: &str, estimated: &str, today: NaiveDate) -> Self {
        let (text, estimated) = (on.trim(), is_yes(typed, estimated));
        if text.is_empty() {
            return Self::Unknown;
        }
        if let Some(middle) = middle_of(text, today) {
            return typed
                .within(
                    "installed_on",
                    "Installed",
                    middle,
                    today,
                    "that is in the future",
                )
                .map_or(Self::Unknown, Self::About);
        }
        if iso_date(text).is_none() {
            typed.refuse(
                "installed_on",
                format!("Installed “{text}” is not a date. Write year-month-day, such as 2026-02-03, or only 2026-02 or 2026 when that is all the plate says."),
            );
            return Self::Unknown;
        }
        let date = typed.date("installed_on", "Installed", text, today, "that is in the future");
        Self::from_row((date, estimated))
    }
}

fn is_yes(typed: &mut Typed, given: &str) -> bool {
    match given.trim() {
        "yes" | "true" => true,
        "" | "no" | "false" => false,
        other => {
            typed.refuse(
                "installed_estimated",
                format!("Estimated is “{other}”, but must be yes or no."),
            );
            false
        }
    }
}

/// The middle of a year `2019` or month `2019-05`, or today when that is still ahead within the same year or month.
fn middle_of(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    let number = |part: &str, digits: usize| {
        (part.len() == digits && part.chars().all(|c| c.is_ascii_digit()))
            .then(|| part.parse::<u32>().ok())
            .flatten()
    };
    let (year, month, day, is_now) = match text.split_once('-') {
        None => {
            let year = i32::try_from(number(text, 4)?).ok()?;
            (year, 7, 1, year == today.year())
        }
        Some((year, month)) => {
            let (year, month) = (i32::try_from(number(year, 4)?).ok()?, number(month, 2)?);
            (year, month, 15, (year, month) == (today.year(), today.month()))
        }
    };
    let middle = NaiveDate::from_ymd_opt(year, month, day)?;
    Some(if is_now { middle.min(today) } else { middle })
}

/// A fixture as typed.
#[derive(Debug, Clone, Default)]
pub struct FixtureText {
    /// Code of the kind.
    pub kind: String,
    /// Maker, free text.
    pub maker: String,
    /// Model, free text.
    pub model: String,
    /// A date, a month or a year; empty when unknown.
    pub installed_on: String,
    /// `yes` when the date is an estimate.
    pub installed_estimated: String,
    /// Free text.
    pub note: String,
}

/// A fixture as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixtureFacts {
    /// What it is.
    pub kind: FixtureKind,
    /// Free text, may be empty.
    pub maker: String,
    /// Free text, may be empty.
    pub model: String,
    /// When.
    pub installed: Installed,
    /// Free text, may be empty.
    pub note: String,
}

/// A fixture of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixture {
    /// Key.
    pub id: FixtureId,
    /// Its place.
    pub tag: TagId,
    /// Only one fixture is in service at a place.
    pub status: Service,
    /// First local day it counts in the register.
    pub stood_from: NaiveDate,
    /// First local day it no longer stood there; none while in service.
    pub stood_until: Option<NaiveDate>,
    /// The fixture it replaced.
    pub replaces: Option<FixtureId>,
    /// What it is.
    pub facts: FixtureFacts,
}

impl From<&FixtureFacts> for FixtureText {
    /// What somebody would type to say the same.
    fn from(facts: &FixtureFacts) -> Self {
        Self {
            kind: facts.kind.to_string(),
            maker: facts.maker.clone(),
            model: facts.model.clone(),
            installed_on: facts
                .installed
                .date()
                .map_or_else(String::new, |day| day.to_string()),
            installed_estimated: if facts.installed.is_estimated() { "yes" } else { "" }.to_owned(),
            note: facts.note.clone(),
        }
    }
}

impl FixtureFacts {
    /// Reads what was typed; `today` is the unit's local date.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`FixtureText`].
    pub fn read(text: &FixtureText, today: NaiveDate) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        if text.kind.trim().is_empty() {
            typed.refuse(
                "kind",
                "Kind is empty. Choose what stands there, such as water_closet.",
            );
        }
        let facts = Self {
            kind: typed.choice("kind", &text.kind, FixtureKind::WaterCloset),
            maker: typed.line("maker", "Maker", &text.maker, 60),
            model: typed.line("model", "Model", &text.model, 60),
            installed: Installed::read(&mut typed, &text.installed_on, &text.installed_estimated, today),
            note: typed.lines("note", "Note", &text.note, 1000),
        };
        typed.finish(facts)
    }
}

impl Fixture {
    /// Whether it stood there on this day.
    #[must_use]
    pub fn stood_on(&self, day: NaiveDate) -> bool {
        self.stood_from <= day && self.stood_until.is_none_or(|until| day < until)
    }

    /// Whether it is in service.
    #[must_use]
    pub fn is_in_service(&self) -> bool {
        self.status == Service::InService
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        iso_date(text).unwrap_or_default()
    }

    fn installed(on: &str) -> Result<Installed, Vec<FieldError>> {
        let mut typed = Typed::new();
        let read = Installed::read(&mut typed, on, "", day("2026-03-10"));
        typed.finish(read)
    }

    #[test]
    fn a_year_or_a_month_alone_is_an_estimate_at_its_middle() {
        assert_eq!(installed("2019"), Ok(Installed::About(day("2019-07-01"))));
        assert_eq!(installed("2019-05"), Ok(Installed::About(day("2019-05-15"))));
        assert_eq!(installed("2026"), Ok(Installed::About(day("2026-03-10"))));
        assert_eq!(installed("2019-05-02"), Ok(Installed::On(day("2019-05-02"))));
        assert_eq!(installed(""), Ok(Installed::Unknown));
    }

    #[test]
    fn nothing_is_installed_in_the_future() {
        for bad in ["2026-03-11", "2027", "2026-04", "1700", "soon", "2026-13"] {
            assert!(installed(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn it_no_longer_stands_on_the_day_it_left() {
        let fixture = Fixture {
            id: FixtureId(1),
            tag: TagId(1),
            status: Service::Retired,
            stood_from: day("2026-01-01"),
            stood_until: Some(day("2026-02-01")),
            replaces: None,
            facts: FixtureFacts {
                kind: FixtureKind::Lavatory,
                maker: String::new(),
                model: String::new(),
                installed: Installed::Unknown,
                note: String::new(),
            },
        };
        assert!(fixture.stood_on(day("2026-01-31")));
        assert!(!fixture.stood_on(day("2026-02-01")));
        assert!(!fixture.stood_on(day("2025-12-31")));
    }
}
