//! An answer in words, for the walk and for the signed record. Decides the phrase; the outcome was judged when it was taken.

use crate::domain::result::{Entry, Outcome};
use crate::domain::trade::outcome::{Context, outcome};
use crate::domain::trade::{Answer, Check};

/// An answer as people read it: `Firm`, `45 s, at most 180 s`, `Rocks, turns or is not bolted down`, `Could not check: Not safe to do`.
/// `check` is the procedure as it was asked.
#[must_use]
pub fn in_words(check: &Check, entry: &Entry, context: &Context) -> String {
    match entry.outcome {
        Outcome::NotChecked => format!("Could not check: {}", entry.reason),
        Outcome::Fail => entry.reason.clone(),
        Outcome::Pass => passed(check, entry, context),
    }
}

fn passed(check: &Check, entry: &Entry, context: &Context) -> String {
    match &check.answer {
        Answer::Verdict { pass, .. } => pass.clone(),
        Answer::Reading { .. } => outcome(check, &entry.reading, context)
            .map_or_else(|_unreadable_now| entry.reading.clone(), |found| found.reason),
    }
}
