//! What a schedule means and reaches, before or after it is stored. Changes nothing.

use chrono::NaiveDate;

use super::Words;
use crate::domain::due::{ClosedDays, Dated, Scope, Terms, WorkCalendar, next_dates, timing_in_words};
use crate::domain::register::person;
use crate::error::Result;
use crate::language;
use crate::store::schedules::{self, Reach};
use crate::store::{AnyConnection, buildings, calendars};

/// Dates that a preview shows.
const DATES: usize = 12;

/// What a schedule means and reaches.
#[derive(Debug, Clone)]
pub struct Preview {
    /// The rule, its window and its early days as sentences.
    pub sentence: String,
    /// The next dates from today: of the rule; of an interval, those that follow when it is done today.
    pub next_dates: Vec<Dated>,
    /// The closed days that they were moved by.
    pub closed: ClosedDays,
    /// Whose calendar that is: "the calendar of Alder House"; empty where closed days move nothing.
    pub calendar: String,
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
        .collect();
    let (closed, calendar) = if terms.timing.moving().asks_for_closed_days() {
        commonest(conn, &terms.scope, today)?
    } else {
        (ClosedDays::none(), String::new())
    };
    Ok(Preview {
        sentence: timing_in_words(&terms.timing),
        next_dates: next_dates(&terms.timing, today, DATES, &closed),
        closed,
        calendar,
        reach: schedules::reach(conn, &terms.scope, &asked, today)?,
    })
}

/// The calendar that most of the buildings in a scope have, and in words whose it is.
fn commonest(conn: &mut AnyConnection, scope: &Scope, today: NaiveDate) -> Result<(ClosedDays, String)> {
    let mut known = calendars::all(conn)?;
    let mut groups: Vec<(WorkCalendar, String, usize)> = Vec::new();
    let mut all = 0;
    for building in buildings::list(conn, &person::Scope::All)? {
        if !scope.reaches_building(&building.facts.code) {
            continue;
        }
        all += 1;
        let calendar = known.remove(&building.id).unwrap_or_default();
        match groups.iter_mut().find(|(other, _, _)| *other == calendar) {
            Some((_, _, count)) => *count += 1,
            None => groups.push((calendar, building.facts.name, 1)),
        }
    }
    // Of equally many, the first by code.
    groups.reverse();
    let Some((calendar, name, count)) = groups.into_iter().max_by_key(|(_, _, count)| *count) else {
        return Ok((ClosedDays::none(), String::new()));
    };
    let whose = match (count, all) {
        (1, _) => format!("the calendar of {name}"),
        (2, 2) => "the calendar that both buildings share".to_owned(),
        (count, all) if count == all => {
            format!("the calendar that all {} buildings share", language::grouped(all))
        }
        (count, all) => format!(
            "the calendar of {name}, which {} of {} buildings have",
            language::grouped(count),
            language::grouped(all)
        ),
    };
    Ok((ClosedDays::of(calendar, today), whose))
}
