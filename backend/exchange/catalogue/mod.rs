//! The built-in catalogue: the files of `seeds/catalogue`, compiled in, as domain values; and one check as the JSON that is stored.
//! Decides what a file may say and how a mistake in it is named; refuses a value without a source.

mod bench;
mod diagnosis;
mod files;
mod read;
mod storage;
mod validate;
mod values;
mod wire;
mod years;

use std::fmt;
use std::sync::OnceLock;

use crate::domain::trade::Catalogue;

pub use files::FILES;
pub use read::read;
pub use storage::{check_from_json, check_to_json};
pub use validate::validate_check;
pub use values::{ValueRow, values};
pub use years::{Scored, Years, years};

/// What is wrong with a catalogue or with a stored check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CatalogueError {
    /// The file, and the check, schedule or profile in it.
    pub place: String,
    /// What is wrong and what to write instead.
    pub problem: String,
}

impl CatalogueError {
    pub(crate) fn new(place: impl Into<String>, problem: impl Into<String>) -> Self {
        Self {
            place: place.into(),
            problem: problem.into(),
        }
    }
}

impl fmt::Display for CatalogueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.problem)
    }
}

impl std::error::Error for CatalogueError {}

/// The built-in catalogue, read once.
///
/// # Errors
/// When a file of the catalogue does not say what it should; a test reads it, so a released program has none.
pub fn builtin() -> Result<&'static Catalogue, CatalogueError> {
    static BUILTIN: OnceLock<Result<Catalogue, CatalogueError>> = OnceLock::new();
    BUILTIN.get_or_init(|| read(FILES)).as_ref().map_err(Clone::clone)
}
