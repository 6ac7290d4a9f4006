//! What a schedule means and reaches, before or after it is stored. Changes nothing.

use chrono::NaiveDate;

use super::Words;
use crate::domain::due::{Terms, next_dates, timing_in_words};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schedules::{self, Reach};

/// Dates that a preview shows.
const DATES: usize = 12;

/// What a schedule means and reaches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preview {
    /// The rule, its window and its early days as sentences.
    pub sentence: String,
    /// The next dates from today: of the rule; of an interval, those that follow when it is done today.
    pub next_dates: Vec<NaiveDate>,
    /// What lies in its scope now.
    pub reach: Reach,
}

/// Looks at a schedule as of a day.
///
/// # Errors
/// When the database does not answer.
pub fn preview(conn: &mut AnyConnection, words: &Words, terms: &Terms, today: NaiveDate) -> Result<Preview> {
    let asked: Vec<_> = terms
        .checks
        .iter()
        .filter_map(|id| words.book.check(*id))
        .map(|asked| std::sync::Arc::clone(&asked.check))
        .collect();
    Ok(Preview {
        sentence: timing_in_words(&terms.timing),
        next_dates: next_dates(&terms.timing, today, DATES),
        reach: schedules::reach(conn, &terms.scope, &asked, today)?,
    })
}
