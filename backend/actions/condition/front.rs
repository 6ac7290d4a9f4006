//! A building as one sees it from the street, on any day since it joined: what stood, was due and was wrong in each unit.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::day_of;
use crate::clock::Now;
use crate::domain::register::{Building, Unit, UnitId};
use crate::error::Result;
use crate::store::lists::rating;
use crate::store::lists::unit_counts::{self, Counts};
use crate::store::{AnyConnection, schedules, units};

/// What an elevation shows.
#[derive(Debug, Clone)]
pub struct Front {
    /// The local date it speaks of.
    pub as_of: NaiveDate,
    /// The local date today.
    pub today: NaiveDate,
    /// Units and common areas as they are registered now.
    pub units: Vec<Unit>,
    /// The counts of each on the day.
    pub counts: BTreeMap<UnitId, Counts>,
}

/// Reads it; today when no day is given. Whoever calls has checked that the person may see the building.
///
/// # Errors
/// When the day lies before the building joined or after today.
pub fn front(
    conn: &mut AnyConnection,
    building: &Building,
    now: Now,
    as_of: Option<NaiveDate>,
) -> Result<Front> {
    let today = now.date_in(building.facts.time_zone);
    let day = match as_of {
        None => today,
        Some(_) => day_of(building, today, as_of)?,
    };
    let counts = if day == today {
        unit_counts::of_building(conn, building.id, today)?
    } else {
        let book = schedules::book(conn)?;
        rating::counts_on(conn, building, day, &book)?
    };
    Ok(Front {
        as_of: day,
        today,
        units: units::of_building(conn, building.id)?,
        counts,
    })
}
