//! A portfolio: the buildings of one owner. Decides its code and name; knows none of its buildings.

use super::PortfolioId;
use super::typed::{Typed, short_code};
use crate::domain::field::FieldError;

/// A portfolio as typed.
#[derive(Debug, Clone, Default)]
pub struct PortfolioText {
    /// Short code.
    pub code: String,
    /// Name.
    pub name: String,
}

/// A portfolio as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PortfolioFacts {
    /// Short code in capitals, for people, CSV and the command line.
    pub code: String,
    /// As the owner calls it.
    pub name: String,
}

/// A portfolio of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Portfolio {
    /// Key.
    pub id: PortfolioId,
    /// What it is.
    pub facts: PortfolioFacts,
}

impl PortfolioFacts {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A sentence for each field that can't be used (`code`, `name`).
    pub fn read(text: &PortfolioText) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let facts = Self {
            code: short_code(&mut typed, "code", "Portfolio code", &text.code),
            name: typed.needed("name", "Portfolio name", &text.name, 80),
        };
        typed.finish(facts)
    }
}
