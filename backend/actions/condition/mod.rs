//! The condition of a building on a day: read, written as a CSV, issued as a numbered copy that never changes.

pub mod ahead;
pub mod every;
pub mod front;
pub mod ground;
pub mod issue;
pub mod office;
pub mod own_lives;
pub mod rating;
pub mod together;
pub mod write;

use chrono::{Months, NaiveDate};

use crate::clock::Now;
use crate::domain::due::Book;
use crate::domain::register::Building;
use crate::domain::register::person::Scope;
use crate::error::{Error, Result};
use crate::store::lists::condition::{self, Line, Loose};
use crate::store::{AnyConnection, buildings, schedules};

/// A building on a day, with what is on record of each fixture that stood there.
#[derive(Debug, Clone)]
pub struct Standing {
    /// Which building.
    pub building: Building,
    /// The local date it speaks of.
    pub as_of: NaiveDate,
    /// The local date today.
    pub today: NaiveDate,
    /// A line a fixture, in the order of a walk.
    pub lines: Vec<Line>,
    /// What is open and belongs to no fixture that stood there.
    pub loose: Vec<Loose>,
}

/// The last day that can be looked at: what comes due is known as far ahead as the rules, but a condition twenty years ahead says
/// nothing that anybody asked.
const YEARS_AHEAD: u32 = 2;

/// Reads a building on a day; today when no day is given. A past day is computed with today's knowledge of schedules and checks; a
/// day to come as if nothing were done until then.
///
/// # Errors
/// When there is no such building within `scope`, or the day lies before it joined or more than two years ahead.
pub fn read(
    conn: &mut AnyConnection,
    scope: &Scope,
    now: Now,
    code: &str,
    as_of: Option<NaiveDate>,
) -> Result<Standing> {
    let building = buildings::by_code(conn, scope, code)?;
    let today = now.date_in(building.facts.time_zone);
    let book = if as_of.is_none_or(|day| day == today) {
        None
    } else {
        Some(schedules::book(conn)?)
    };
    read_building(conn, book.as_ref(), now, building, as_of)
}

/// As [`read`], of a building at hand; `book` is asked for on any day but today.
fn read_building(
    conn: &mut AnyConnection,
    book: Option<&Book>,
    now: Now,
    building: Building,
    as_of: Option<NaiveDate>,
) -> Result<Standing> {
    let today = now.date_in(building.facts.time_zone);
    let as_of = day_of(&building, today, as_of)?;
    let book = book.filter(|_| as_of != today);
    let (lines, loose) = condition::of_building(conn, &building, as_of, book)?;
    Ok(Standing {
        building,
        as_of,
        today,
        lines,
        loose,
    })
}

/// The day that is asked for, today when none is.
///
/// # Errors
/// When it lies before the building joined or more than two years ahead.
fn day_of(building: &Building, today: NaiveDate, as_of: Option<NaiveDate>) -> Result<NaiveDate> {
    let as_of = as_of.unwrap_or(today);
    let last = today
        .checked_add_months(Months::new(12 * YEARS_AHEAD))
        .unwrap_or(today);
    if as_of < building.facts.joined_on || as_of > last {
        return Err(Error::field(
            "as_of",
            format!(
                "{as_of} has no condition of {}. Give a day from {} to {last}.",
                building.facts.code, building.facts.joined_on
            ),
        ));
    }
    Ok(as_of)
}
