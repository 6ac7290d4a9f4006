//! Where due dates were moved from, and why, in the words of lists and pages. It decides no date.

use std::collections::HashMap;

use chrono::NaiveDate;

use crate::domain::due::{ClosedDays, why_moved};
use crate::domain::register::{BuildingId, ScheduleId};
use crate::error::Result;
use crate::language::Language;
use crate::store::{AnyConnection, calendars, schedules};

/// A due date that was moved.
#[derive(Debug, Clone, Copy)]
pub struct Moved {
    /// In which building.
    pub building: BuildingId,
    /// By which schedule.
    pub schedule: ScheduleId,
    /// Before.
    pub from: NaiveDate,
    /// After.
    pub to: NaiveDate,
    /// The date in the building now.
    pub today: NaiveDate,
}

/// Says of each where it was moved from and why; an empty text where it was not moved. Calendars and schedules are as they are now.
///
/// # Errors
/// When the database does not answer.
pub fn in_words(
    conn: &mut AnyConnection,
    dates: &[Option<Moved>],
    language: Language,
) -> Result<Vec<String>> {
    let moved = || dates.iter().flatten();
    if moved().next().is_none() {
        return Ok(vec![String::new(); dates.len()]);
    }
    let mut buildings: Vec<BuildingId> = moved().map(|one| one.building).collect();
    buildings.sort_unstable();
    buildings.dedup();
    let mut asking: Vec<ScheduleId> = moved().map(|one| one.schedule).collect();
    asking.sort_unstable();
    asking.dedup();
    let moving = schedules::moving_of(conn, &asking)?;
    let mut known = calendars::of_buildings(conn, &buildings)?;
    let mut closed: HashMap<BuildingId, ClosedDays> = HashMap::new();
    for one in moved() {
        closed.entry(one.building).or_insert_with(|| {
            let calendar = known.remove(&one.building).unwrap_or_default();
            ClosedDays::near(calendar, one.today)
        });
    }
    let words = |one: &Moved| {
        let closed = closed.get(&one.building)?;
        let moving = *moving.get(&one.schedule)?;
        let why = why_moved(moving, (one.from, one.to), closed);
        Some(language.moved(one.from, why, one.today))
    };
    let said = dates
        .iter()
        .map(|date| date.as_ref().and_then(words).unwrap_or_default());
    Ok(said.collect())
}
