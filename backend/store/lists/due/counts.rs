//! How much is overdue, due and in its window in each building, under the filter of a list.
//!
//! To count a fleet's open windows is most of the work of a page, and between two changes the answer is the same. So it is kept in
//! memory under everything that it depends on; every change of a due row changes the mark that is part of that.

use std::collections::HashMap;
use std::sync::Arc;

use diesel::dsl::{case_when, count, count_star};
use diesel::prelude::*;
use diesel::sql_types::Integer;

use super::desk::Desk;
use super::filter::{self, Filter, Wanted};
use crate::domain::register::BuildingId;
use crate::error::Result;
use crate::kept::Kept;
use crate::store::AnyConnection;
use crate::store::among::among;
use crate::store::due::mark;
use crate::store::schema::due_items;

/// What can be done today in one building.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// Past the last day of grace.
    pub overdue: i64,
    /// From the due date to the last day of grace.
    pub due: i64,
    /// Open and not yet due.
    pub in_window: i64,
}

impl Count {
    /// All three.
    #[must_use]
    pub fn open(self) -> i64 {
        self.overdue + self.due + self.in_window
    }

    /// Two together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            overdue: self.overdue + other.overdue,
            due: self.due + other.due,
            in_window: self.in_window + other.in_window,
        }
    }
}

/// The counts of the buildings that have any, whatever states the filter names.
pub type Counts = HashMap<BuildingId, Count>;

/// Everything that counts depend on.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Key {
    mark: String,
    desk: u64,
    filter: String,
}

/// Answers to what was asked lately.
static COUNTED: Kept<Key, Arc<Counts>> = Kept::new(64);

/// Counts what can be done today under a filter, its states left aside.
///
/// # Errors
/// When the database does not answer.
pub fn of_buildings(conn: &mut AnyConnection, desk: &Desk, asked: &Filter) -> Result<Arc<Counts>> {
    // A fixture's kind can change without any due row, so what it cuts is counted each time.
    let Some(mark) = mark(conn)?.filter(|_| asked.kind.is_none()) else {
        return count_anew(conn, desk, asked).map(Arc::new);
    };
    let key = key(mark, desk, asked);
    if let Some(counts) = COUNTED.get(&key) {
        return Ok(counts);
    }
    let counts = Arc::new(count_anew(conn, desk, asked)?);
    COUNTED.put(key, Arc::clone(&counts));
    Ok(counts)
}

fn key(mark: String, desk: &Desk, asked: &Filter) -> Key {
    let any_state = Filter {
        wanted: Wanted::Open,
        ..asked.clone()
    };
    Key {
        mark,
        desk: desk.number,
        filter: format!("{any_state:?}"),
    }
}

/// As [`of_buildings`], counted now whatever was kept.
///
/// # Errors
/// When the database does not answer.
pub fn count_anew(conn: &mut AnyConnection, desk: &Desk, asked: &Filter) -> Result<Counts> {
    let mut counts = Counts::new();
    for (&today, keys) in &desk.by_date {
        let keys: Vec<i64> = match asked.building {
            None => keys.clone(),
            Some(building) => keys.iter().copied().filter(|key| *key == building.0).collect(),
        };
        if keys.is_empty() {
            continue;
        }
        let mut query = due_items::table
            .group_by(due_items::building_id)
            .select((
                due_items::building_id,
                count(case_when(due_items::last_day.lt(today), 1.into_sql::<Integer>())),
                count(case_when(due_items::due.le(today), 1.into_sql::<Integer>())),
                count_star(),
            ))
            .filter(among(conn, "due_items.building_id", &keys))
            .filter(due_items::last_day.le(desk.ends_by(today)))
            .filter(due_items::opens.le(today))
            .into_boxed();
        for condition in filter::of_rows(desk, asked) {
            query = query.filter(condition);
        }
        let rows: Vec<(i64, i64, i64, i64)> = query.load(conn)?;
        for (building, overdue, due_or_over, open) in rows {
            let count = Count {
                overdue,
                due: due_or_over - overdue,
                in_window: open - due_or_over,
            };
            counts.insert(BuildingId(building), count);
        }
    }
    Ok(counts)
}
