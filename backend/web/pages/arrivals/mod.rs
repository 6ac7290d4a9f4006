//! What phones sent that came late or could not be taken: the manager reads it and notes it.

pub mod list;
pub mod noted;

use crate::language;

/// `2 answers arrived late`, for the pages that lead to the list; none when nothing is to be noted.
pub fn to_note(count: usize) -> Option<String> {
    let words = language::count(
        count,
        "thing that phones sent came",
        "things that phones sent came",
    );
    (count > 0).then(|| format!("{words} late or could not be taken."))
}
