//! Who lives in a unit from when to when. Decides the fields; knows no person by anything but what entry needs and the lease says.
//!
//! Managers see all of it. A technician sees [`Entry`], what an entry needs, and never how to reach the household: the office makes
//! the appointments. An owner sees none of it.

use chrono::NaiveDate;

use super::typed::{Typed, a_year_ahead};
use super::{HouseholdId, UnitId};
use crate::domain::field::FieldError;

/// A household as typed.
#[derive(Debug, Clone, Default)]
pub struct HouseholdText {
    /// As the lease has it.
    pub name: String,
    /// BCP 47 tag; empty for `en`.
    pub language: String,
    /// Telephone or mail.
    pub contact: String,
    /// When entry was agreed, in words.
    pub agreed_hours: String,
    /// Days without entry, in words.
    pub no_entry_days: String,
    /// Local date; empty for today.
    pub moved_in_on: String,
}

/// A household as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HouseholdFacts {
    /// As the lease has it.
    pub name: String,
    /// BCP 47 tag, such as `en` or `pt-BR`.
    pub language: String,
    /// Telephone or mail, may be empty.
    pub contact: String,
    /// When entry was agreed, in words, may be empty.
    pub agreed_hours: String,
    /// Days without entry, in words, may be empty.
    pub no_entry_days: String,
    /// Local date.
    pub moved_in_on: NaiveDate,
}

/// A household of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Household {
    /// Key.
    pub id: HouseholdId,
    /// Where.
    pub unit: UnitId,
    /// Local date, none while they live there.
    pub moved_out_on: Option<NaiveDate>,
    /// Who.
    pub facts: HouseholdFacts,
}

/// What somebody who enters a unit has to know of its household.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// As the lease has it.
    pub name: String,
    /// BCP 47 tag.
    pub language: String,
    /// When entry was agreed, in words, may be empty.
    pub agreed_hours: String,
    /// Days without entry, in words, may be empty.
    pub no_entry_days: String,
}

impl HouseholdFacts {
    /// Reads what was typed; `today` is the unit's local date.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`HouseholdText`].
    pub fn read(text: &HouseholdText, today: NaiveDate) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let facts = Self {
            name: typed.needed("name", "Household name", &text.name, 80),
            language: language(&mut typed, &text.language),
            contact: typed.line("contact", "Contact", &text.contact, 120),
            agreed_hours: typed.line("agreed_hours", "Agreed hours", &text.agreed_hours, 120),
            no_entry_days: typed.line("no_entry_days", "Days without entry", &text.no_entry_days, 120),
            moved_in_on: typed
                .date(
                    "moved_in_on",
                    "Move-in",
                    &text.moved_in_on,
                    a_year_ahead(today),
                    "that is more than a year ahead",
                )
                .unwrap_or(today),
        };
        typed.finish(facts)
    }
}

impl Household {
    /// What somebody who enters has to know.
    #[must_use]
    pub fn entry(&self) -> Entry {
        Entry {
            name: self.facts.name.clone(),
            language: self.facts.language.clone(),
            agreed_hours: self.facts.agreed_hours.clone(),
            no_entry_days: self.facts.no_entry_days.clone(),
        }
    }

    /// Whether they live there on this day.
    #[must_use]
    pub fn lives_there_on(&self, day: NaiveDate) -> bool {
        self.facts.moved_in_on <= day && self.moved_out_on.is_none_or(|out| day < out)
    }
}

/// A language tag by its shape (RFC 5646, 2.1: a primary subtag of 2 or 3 letters, then subtags of 1 to 8 letters and digits).
fn language(typed: &mut Typed, given: &str) -> String {
    let text = given.trim();
    if text.is_empty() {
        return "en".to_owned();
    }
    let mut subtags = text.split('-');
    let primary = subtags
        .next()
        .is_some_and(|tag| (2..=3).contains(&tag.len()) && tag.chars().all(|c| c.is_ascii_alphabetic()));
    let rest =
        subtags.all(|tag| (1..=8).contains(&tag.len()) && tag.chars().all(|c| c.is_ascii_alphanumeric()));
    if !primary || !rest || text.len() > 35 {
        typed.refuse(
            "language",
            format!("“{text}” is not a language tag. Write two letters such as en, es or de, with a region when it matters: pt-BR."),
        );
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_is_a_tag_and_not_its_name() {
        for (given, good) in [
            ("en", true),
            ("pt-BR", true),
            ("zh-Hant", true),
            ("Spanish", false),
            ("e", false),
            ("en_US", false),
        ] {
            let mut typed = Typed::new();
            language(&mut typed, given);
            assert_eq!(typed.finish(()).is_ok(), good, "{given}");
        }
    }
}
