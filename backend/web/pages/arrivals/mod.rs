//! What phones sent that came late or could not be taken: the manager reads it and notes it.

pub mod list;
pub mod noted;

use crate::language::Language;

/// `2 things that phones sent came late or could not be taken.`, for the pages that lead to the list; none when nothing is to be noted.
pub fn to_note(language: Language, count: usize) -> Option<String> {
    (count > 0).then(|| language.count("turnover-arrived", count))
}
