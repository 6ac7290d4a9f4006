//! How much is overdue, due and in its window in each building, under the filter of a list.
//!
//! To count a fleet's open windows is most of the work of a page, and between two changes the answer is the same. So it is kept in
//! memory under everything that it depends on, and counted again in the buildings whose rows changed since.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use diesel::dsl::{case_when, count, count_star};
use diesel::prelude::*;
use diesel::sql_types::Integer;

use super::desk::Desk;
use super::filter::{self, Filter, Wanted};
use crate::clock::Now;
use crate::domain::due::State;
use crate::domain::register::BuildingId;
use crate::domain::register::person::Scope;
use crate::error::{Error, Result};
use crate::kept::Kept;
use crate::store::AnyConnection;
use crate::store::among::among;
use crate::store::due::{changed_after, last_change};
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
    /// From what the database counts in one pass: past the last day, from the due date on, open at all.
    pub(in crate::store) fn of_sums(overdue: i64, due_or_over: i64, open: i64) -> Self {
        Self {
            overdue,
            due: due_or_over - overdue,
            in_window: open - due_or_over,
        }
    }

    /// With one more in a state; what opens later is not counted.
    pub(in crate::store) fn add(&mut self, state: State) {
        match state {
            State::Overdue => self.overdue += 1,
            State::Due => self.due += 1,
            State::InWindow => self.in_window += 1,
            State::Later => {}
        }
    }

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
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Counts {
    each: HashMap<BuildingId, Count>,
    total: Count,
    worst: Vec<(BuildingId, Count)>,
}

impl Counts {
    /// So many buildings are named as those with the most overdue.
    pub const WORST: usize = 24;

    fn new(each: HashMap<BuildingId, Count>, desk: &Desk) -> Self {
        let total = each
            .values()
            .fold(Count::default(), |sum, count| sum.plus(*count));
        let mut worst: Vec<(BuildingId, Count)> = each.iter().map(|(id, count)| (*id, *count)).collect();
        let worst_first =
            |(id, count): &(BuildingId, Count)| (-count.overdue, -count.due, desk.position(*id));
        if worst.len() > Self::WORST {
            worst.select_nth_unstable_by_key(Self::WORST, worst_first);
            worst.truncate(Self::WORST);
        }
        worst.sort_unstable_by_key(worst_first);
        Self { each, total, worst }
    }

    /// The count of one building; none when there is nothing to do.
    #[must_use]
    pub fn get(&self, building: BuildingId) -> Option<Count> {
        self.each.get(&building).copied()
    }

    /// Of all buildings together.
    #[must_use]
    pub fn total(&self) -> Count {
        self.total
    }

    /// In how many buildings there is anything to do.
    #[must_use]
    pub fn buildings(&self) -> usize {
        self.each.len()
    }

    /// At most [`WORST`](Self::WORST) of them, the most overdue first, then the most due, then by code.
    #[must_use]
    pub fn worst(&self) -> &[(BuildingId, Count)] {
        &self.worst
    }
}

/// Everything that counts depend on but the rows themselves.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Key {
    counted_as: u64,
    filter: String,
}

/// What was counted, and the change of due rows up to which it holds.
#[derive(Debug, Clone)]
struct Counted {
    change: i64,
    counts: Arc<Counts>,
}

/// Answers to what was asked lately.
static COUNTED: Kept<Key, Counted> = Kept::new(64);

/// In so many buildings something may have changed, for them alone to be counted again.
const FEW_CHANGED: usize = 200;

/// Counts what can be done today under a filter, its states left aside.
///
/// # Errors
/// When the database does not answer.
pub fn of_buildings(conn: &mut AnyConnection, desk: &Desk, asked: &Filter) -> Result<Arc<Counts>> {
    // A fixture's kind can change without any due row, so what it cuts is counted each time.
    if asked.kind.is_some() {
        return count_anew(conn, desk, asked).map(Arc::new);
    }
    let change = last_change(conn)?;
    let key = key(desk, asked);
    let counts = match COUNTED.get(&key) {
        Some(kept) if kept.change == change => return Ok(kept.counts),
        Some(kept) if kept.change < change => count_again(conn, desk, asked, &kept)?,
        _ => count_anew(conn, desk, asked)?,
    };
    let counts = Arc::new(counts);
    let kept = Counted {
        change,
        counts: Arc::clone(&counts),
    };
    COUNTED.put(key, kept);
    Ok(counts)
}

/// Counts ahead, under no filter, for whoever sees every building: it is what takes longest in a large fleet, and after a start, at a
/// new date or under a changed schedule nobody shall wait for it.
///
/// # Errors
/// When the database does not answer.
pub fn count_ahead(conn: &mut AnyConnection, now: Now) -> Result<Arc<Counts>> {
    let desk = Desk::load(conn, &Scope::All, now)?;
    of_buildings(conn, &desk, &Filter::default())
}

fn key(desk: &Desk, asked: &Filter) -> Key {
    let any_state = Filter {
        wanted: Wanted::Open,
        ..asked.clone()
    };
    Key {
        counted_as: desk.counted_as,
        filter: format!("{any_state:?}"),
    }
}

/// Counts only where something changed since.
fn count_again(conn: &mut AnyConnection, desk: &Desk, asked: &Filter, kept: &Counted) -> Result<Counts> {
    let limit = i64::try_from(FEW_CHANGED + 1).map_err(Error::internal)?;
    let changed: HashSet<i64> = changed_after(conn, kept.change, limit)?.into_iter().collect();
    if changed.len() > FEW_CHANGED {
        return count_anew(conn, desk, asked);
    }
    let mut each = kept.counts.each.clone();
    each.retain(|building, _| !changed.contains(&building.0));
    each.extend(count_in(conn, desk, asked, |key| changed.contains(&key))?);
    Ok(Counts::new(each, desk))
}

/// As [`of_buildings`], counted now whatever was kept.
///
/// # Errors
/// When the database does not answer.
pub fn count_anew(conn: &mut AnyConnection, desk: &Desk, asked: &Filter) -> Result<Counts> {
    let each = count_in(conn, desk, asked, |_| true)?;
    Ok(Counts::new(each, desk))
}

/// Counts in the buildings of some keys.
fn count_in(
    conn: &mut AnyConnection,
    desk: &Desk,
    asked: &Filter,
    is_counted: impl Fn(i64) -> bool,
) -> Result<HashMap<BuildingId, Count>> {
    let mut counts = HashMap::new();
    for (&today, keys) in &desk.by_date {
        let is_asked = |key: &i64| asked.building.is_none_or(|building| building.0 == *key);
        let keys: Vec<i64> = keys
            .iter()
            .copied()
            .filter(|key| is_asked(key) && is_counted(*key))
            .collect();
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
            counts.insert(BuildingId(building), Count::of_sums(overdue, due_or_over, open));
        }
    }
    Ok(counts)
}
