//! What the figures of every building rest on alike, read once however many buildings are reckoned.

use std::collections::BTreeMap;

use super::office::{Figures, figures};
use crate::domain::due::Book;
use crate::domain::register::CheckId;
use crate::error::{Error, Result};
use crate::exchange::catalogue::{self, Years};
use crate::store::{AnyConnection, checks, schedules};

/// What holds in every building.
#[derive(Debug)]
pub struct Ground {
    /// Schedules and checks.
    pub(super) book: Book,
    /// Code and title of each check.
    pub(super) named: BTreeMap<CheckId, (String, String)>,
    /// Lives, prices and bands.
    pub(super) figures: Figures,
    /// The method of scoring and what it scores.
    pub(super) known: &'static Years,
}

impl Ground {
    /// Reads it.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection) -> Result<Self> {
        let named = checks::load_all(conn)?
            .into_iter()
            .map(|kept| (kept.id, (kept.check.code.to_string(), kept.check.title.clone())));
        Ok(Self {
            named: named.collect(),
            book: schedules::book(conn)?,
            figures: figures(conn)?,
            known: catalogue::years().map_err(Error::internal)?,
        })
    }
}
