//! What a schedule may refer to, read from the database.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::due::{Book, Known};
use crate::domain::register::PersonId;
use crate::domain::register::person::Scope;
use crate::error::Result;
use crate::store::{AnyConnection, buildings, schedules};

/// Checks, schedules, buildings and technicians by the words that people use for them.
#[derive(Debug)]
pub struct Words {
    /// Checks and schedules.
    pub book: Book,
    /// Codes of the buildings.
    pub buildings: BTreeSet<String>,
    /// Technicians by mail address.
    pub technicians: BTreeMap<String, PersonId>,
}

impl Words {
    /// Reads them.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection) -> Result<Self> {
        let technicians = buildings::technicians(conn)?;
        Ok(Self {
            book: schedules::book(conn)?,
            buildings: buildings::list(conn, &Scope::All)?
                .into_iter()
                .map(|building| building.facts.code)
                .collect(),
            technicians: technicians
                .into_iter()
                .map(|person| (person.email.to_lowercase(), person.id))
                .collect(),
        })
    }

    /// As the domain asks for them.
    #[must_use]
    pub fn known(&self) -> Known<'_> {
        Known {
            book: &self.book,
            buildings: &self.buildings,
            technicians: &self.technicians,
        }
    }
}
