//! A wearing part of a fixture with an age of its own. Decides its fields; knows no check.

use chrono::NaiveDate;

use super::fixture::{Installed, Service};
use super::typed::Typed;
use super::{FixtureId, PartId};
use crate::domain::field::FieldError;
use crate::domain::trade::PartKind;

/// A part as typed.
#[derive(Debug, Clone, Default)]
pub struct PartText {
    /// Code of the kind.
    pub kind: String,
    /// A date, a month or a year; empty when unknown.
    pub installed_on: String,
    /// `yes` when the date is an estimate.
    pub installed_estimated: String,
}

/// A part as read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartFacts {
    /// What it is; a fixture has one in service of each kind.
    pub kind: PartKind,
    /// When.
    pub installed: Installed,
}

/// A part of the register.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// Key.
    pub id: PartId,
    /// Of which fixture.
    pub fixture: FixtureId,
    /// Only parts in service come due.
    pub status: Service,
    /// First local day it counts.
    pub stood_from: NaiveDate,
    /// First local day it was no longer there; none while in service.
    pub stood_until: Option<NaiveDate>,
    /// What it is.
    pub facts: PartFacts,
}

impl PartFacts {
    /// Reads what was typed; `today` is the unit's local date.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`PartText`].
    pub fn read(text: &PartText, today: NaiveDate) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        if text.kind.trim().is_empty() {
            typed.refuse(
                "kind",
                "Part is empty. Choose which part it is, such as supply_line.",
            );
        }
        let facts = Self {
            kind: typed.choice("kind", &text.kind, PartKind::SupplyLine),
            installed: Installed::read(&mut typed, &text.installed_on, &text.installed_estimated, today),
        };
        typed.finish(facts)
    }
}
