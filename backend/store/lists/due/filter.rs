//! Which due items are asked for, as conditions that both databases answer from an index range: the days of windows first, the rest
//! row by row within it.

use chrono::NaiveDate;
use diesel::dsl::exists;
use diesel::expression::{AppearsOnTable, SelectableExpression, ValidGrouping, is_aggregate};
use diesel::prelude::*;
use diesel::query_builder::{AstPass, QueryFragment, QueryId};
use diesel::sql_types::{BigInt, Bool, Date, Text};

use super::Key;
use super::counts::Count;
use super::desk::Desk;
use crate::domain::code::Coded;
use crate::domain::due::State;
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId, UnitId};
use crate::domain::trade::{FixtureKind, Severity};
use crate::store::AnyConnection;
use crate::store::among::{Either, among};
use crate::store::coded::part_code;
use crate::store::schema::{due_items, fixtures};

/// Which states are asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Wanted {
    /// Whatever can be done today: in its window, due or overdue.
    #[default]
    Open,
    /// One state.
    Only(State),
    /// Every state, what opens later too.
    All,
}

/// Whose work is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// A person's.
    Person(PersonId),
    /// What nobody is named for.
    Nobody,
}

/// Which due items are asked for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Filter {
    /// By state, on each building's own date.
    pub wanted: Wanted,
    /// In one building.
    pub building: Option<BuildingId>,
    /// In these units.
    pub units: Option<Vec<UnitId>>,
    /// On fixtures of a kind.
    pub kind: Option<FixtureKind>,
    /// Of one check.
    pub check: Option<CheckId>,
    /// Asked first by one schedule.
    pub schedule: Option<ScheduleId>,
    /// Of checks whose failure is so grave.
    pub severity: Option<Severity>,
    /// By who does it.
    pub technician: Option<By>,
}

impl Filter {
    /// Whether it asks for windows that open later, which are not counted.
    pub(super) fn reaches_later(&self) -> bool {
        matches!(self.wanted, Wanted::All | Wanted::Only(State::Later))
    }

    /// How many of what was counted have a state that it asks for.
    #[must_use]
    pub fn asked_of(&self, count: Count) -> i64 {
        match self.wanted {
            Wanted::Open | Wanted::All => count.open(),
            Wanted::Only(State::Overdue) => count.overdue,
            Wanted::Only(State::Due) => count.due,
            Wanted::Only(State::InWindow) => count.in_window,
            Wanted::Only(State::Later) => 0,
        }
    }
}

/// One condition on due rows.
pub(super) type Condition = Box<dyn BoxableExpression<due_items::table, Either, SqlType = Bool>>;

/// So many buildings are still looked up one by one in the index; more are sorted out along it.
const FEW: usize = 4;

/// The conditions of everything but the state.
pub(super) fn of_rows(desk: &Desk, filter: &Filter) -> Vec<Condition> {
    let mut all: Vec<Condition> = Vec::new();
    if let Some(units) = &filter.units {
        let keys: Vec<i64> = units.iter().map(|unit| unit.0).collect();
        all.push(Box::new(due_items::unit_id.eq_any(keys)));
    }
    if let Some(check) = filter.check {
        all.push(Box::new(due_items::check_id.eq(check.0)));
    }
    if let Some(schedule) = filter.schedule {
        // The sum keeps both databases on the order of last days, as below.
        all.push(Box::new((due_items::schedule_id + 0).eq(schedule.0)));
    }
    if let Some(severity) = filter.severity {
        let keys: Vec<i64> = desk
            .checks
            .iter()
            .filter(|(_, asked)| asked.severity == severity)
            .map(|(id, _)| id.0)
            .collect();
        all.push(Box::new(due_items::check_id.eq_any(keys)));
    }
    if let Some(kind) = filter.kind {
        all.push(Box::new(exists(
            fixtures::table
                .filter(fixtures::id.eq(due_items::fixture_id))
                .filter(fixtures::kind.eq(kind.code())),
        )));
    }
    all.extend(filter.technician.map(|by| done_by(desk, by)));
    all
}

/// A schedule's own technician does it, else the building's. The sums keep both databases from an index that would be the wrong one.
fn done_by(desk: &Desk, by: By) -> Condition {
    let whose = match by {
        By::Person(person) => Some(person),
        By::Nobody => None,
    };
    let schedules = |technician: Option<PersonId>| -> Vec<i64> {
        let named = desk.schedules.iter();
        let theirs = named.filter(|(_, asking)| asking.technician == technician);
        theirs.map(|(id, _)| id.0).collect()
    };
    let buildings: Vec<i64> = desk
        .places
        .iter()
        .filter(|place| place.technician == whose)
        .map(|place| place.id.0)
        .collect();
    let by_building = (due_items::schedule_id + 0)
        .eq_any(schedules(None))
        .and((due_items::building_id + 0).eq_any(buildings));
    match whose {
        Some(_) => Box::new(
            (due_items::schedule_id + 0)
                .eq_any(schedules(whose))
                .or(by_building),
        ),
        None => Box::new(by_building),
    }
}

/// The condition that rows lie in buildings that are seen.
pub(super) fn of_scope(conn: &AnyConnection, desk: &Desk, filter: &Filter) -> Option<Condition> {
    if let Some(building) = filter.building {
        return Some(match desk.place(building) {
            Some(_) => Box::new(due_items::building_id.eq(building.0)),
            None => Box::new(due_items::building_id.eq(0)),
        });
    }
    if desk.sees_all {
        return None;
    }
    let keys: Vec<i64> = desk.places.iter().map(|place| place.id.0).collect();
    Some(if keys.len() <= FEW {
        Box::new(due_items::building_id.eq_any(keys))
    } else {
        Box::new(among(conn, "due_items.building_id + 0", &keys))
    })
}

/// The conditions of the state: exact for each building's own date, within one range of last days.
pub(super) fn of_state(conn: &AnyConnection, desk: &Desk, filter: &Filter) -> Vec<Condition> {
    let dates = &desk.by_date;
    let mut all: Vec<Condition> = Vec::new();
    let (Some((&first, _)), Some((&last, _))) = (dates.first_key_value(), dates.last_key_value()) else {
        return all;
    };
    all.extend(ends_from(filter.wanted, first));
    all.extend(ends_to(filter.wanted, desk, last));
    let exact = if first == last {
        in_state(filter.wanted, first)
    } else {
        let each = dates.iter().filter_map(|(today, keys)| {
            let there: Condition = Box::new(among(conn, "due_items.building_id + 0", keys));
            Some(Box::new(there.and(in_state(filter.wanted, *today)?)) as Condition)
        });
        each.reduce(|one, other| Box::new(one.or(other)))
    };
    all.extend(exact);
    all
}

/// A row's state on a day.
fn in_state(wanted: Wanted, today: NaiveDate) -> Option<Condition> {
    Some(match wanted {
        Wanted::All => return None,
        Wanted::Open => Box::new(due_items::opens.le(today)),
        Wanted::Only(State::Later) => Box::new(due_items::opens.gt(today)),
        Wanted::Only(State::InWindow) => Box::new(due_items::opens.le(today).and(due_items::due.gt(today))),
        Wanted::Only(State::Due) => Box::new(due_items::due.le(today).and(due_items::last_day.ge(today))),
        Wanted::Only(State::Overdue) => Box::new(due_items::last_day.lt(today)),
    })
}

fn ends_from(wanted: Wanted, first: NaiveDate) -> Option<Condition> {
    match wanted {
        Wanted::Only(State::Later | State::InWindow | State::Due) => {
            Some(Box::new(due_items::last_day.ge(first)))
        }
        Wanted::Only(State::Overdue) | Wanted::Open | Wanted::All => None,
    }
}

fn ends_to(wanted: Wanted, desk: &Desk, last: NaiveDate) -> Option<Condition> {
    match wanted {
        Wanted::Only(State::Overdue) => Some(Box::new(due_items::last_day.lt(last))),
        Wanted::Only(State::InWindow | State::Due) | Wanted::Open => {
            Some(Box::new(due_items::last_day.le(desk.ends_by(last))))
        }
        Wanted::Only(State::Later) | Wanted::All => None,
    }
}

/// The condition that a row comes after another one in the order of last days.
pub(super) fn after(last_day: NaiveDate, key: &Key) -> Condition {
    Box::new(After {
        last_day,
        fixture: key.fixture.0,
        part: part_code(key.part),
        check: key.check.0,
    })
}

/// As one comparison of the whole key, which either database begins at within its index; said column by column it would walk over
/// every row of that day first.
#[derive(Debug, Clone)]
struct After {
    last_day: NaiveDate,
    fixture: i64,
    part: &'static str,
    check: i64,
}

impl Expression for After {
    type SqlType = Bool;
}

impl AppearsOnTable<due_items::table> for After {}
impl SelectableExpression<due_items::table> for After {}

impl ValidGrouping<()> for After {
    type IsAggregate = is_aggregate::No;
}

impl QueryId for After {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl QueryFragment<Either> for After {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, Either>) -> diesel::QueryResult<()> {
        out.push_sql("(due_items.last_day, due_items.fixture_id, due_items.part, due_items.check_id) > (");
        out.push_bind_param::<Date, _>(&self.last_day)?;
        out.push_sql(", ");
        out.push_bind_param::<BigInt, _>(&self.fixture)?;
        out.push_sql(", ");
        out.push_bind_param::<Text, _>(self.part)?;
        out.push_sql(", ");
        out.push_bind_param::<BigInt, _>(&self.check)?;
        out.push_sql(")");
        Ok(())
    }
}
