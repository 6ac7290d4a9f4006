//! The condition of buildings, for their owner and the manager: overview, one building on a day, its CSV, its issued copies.

pub mod building;
pub mod columns;
pub mod csv;
pub mod document;
pub mod every_csv;
pub mod forecast;
pub mod forecast_csv;
pub mod issue;
pub mod list;
pub mod lives;
pub mod portfolio;
pub mod score;

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::domain::code::Coded as _;
use crate::domain::condition::{Condition, condition};
use crate::error::FieldError;
use crate::picture::shares::{Fill, Share, shares};
use crate::store::lists::condition::Line;
use crate::web::form::Fields;

/// How many fixtures are in each condition.
type Counts = BTreeMap<Condition, usize>;

fn counts(lines: &[Line]) -> Counts {
    let mut counts = Counts::new();
    for line in lines {
        *counts.entry(condition(&line.record).0).or_default() += 1;
    }
    counts
}

/// The bar of a building, and the same in words.
fn bar(name: &str, counts: &Counts) -> String {
    let parts: Vec<Share> = Condition::ALL
        .iter()
        .map(|word| Share {
            word: word.code(),
            count: counts.get(word).copied().unwrap_or(0),
            fill: match word {
                Condition::Unsafe => Fill::Full,
                Condition::Repair => Fill::Close,
                Condition::Watch => Fill::Wide,
                Condition::Sound => Fill::Empty,
                Condition::Unknown => Fill::Dotted,
            },
        })
        .collect();
    let words: Vec<String> = parts
        .iter()
        .filter(|part| part.count > 0)
        .map(|part| format!("{} {}", part.count, part.word))
        .collect();
    shares(&format!("{name}: {}", words.join(", ")), &parts)
}

/// The day that the address or the form asks for; none for today.
///
/// # Errors
/// What to mend when it is no date.
pub fn asked_day(fields: &Fields) -> Result<Option<NaiveDate>, Vec<FieldError>> {
    let mut errors = Vec::new();
    let day = fields.date("as_of", "As of", &mut errors);
    if errors.is_empty() { Ok(day) } else { Err(errors) }
}
