//! The list of buildings with what stands and what is wrong in each.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use diesel::dsl::count_star;
use diesel::prelude::*;

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, BuildingId, PortfolioId, Service};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::store::buildings::{self, keys_of};
use crate::store::coded::read_code;
use crate::store::schema::{deficiencies, due_items, fixtures, tags, units};
use crate::store::{AnyConnection, schema};

/// How many things are wrong, and how grave the worst is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Open {
    /// Deficiencies that are not closed.
    pub count: i64,
    /// The worst of them.
    pub worst: Option<Severity>,
}

impl Open {
    pub(super) fn add(&mut self, severity: Severity, count: i64) {
        self.count += count;
        self.worst = Some(self.worst.map_or(severity, |worst| worst.graver(severity)));
    }
}

/// A building with its counts.
#[derive(Debug, Clone)]
pub struct Summary {
    /// Which.
    pub building: Building,
    /// Units and common areas.
    pub units: i64,
    /// Fixtures in service.
    pub fixtures: i64,
    /// Due items past their last day, on the building's own date.
    pub overdue: i64,
    /// Deficiencies that are not closed.
    pub open: Open,
}

/// Which buildings are asked for.
#[derive(Debug, Clone, Default)]
pub struct Wanted {
    /// Only those of this portfolio.
    pub portfolio: Option<PortfolioId>,
    /// Only those whose code comes after this one.
    pub after: Option<String>,
    /// At most so many, one more is read to see whether there are more.
    pub limit: usize,
}

/// A page of buildings by code.
#[derive(Debug, Clone)]
pub struct Page {
    /// The buildings.
    pub rows: Vec<Summary>,
    /// The code to go on after, when there are more.
    pub next: Option<String>,
    /// How many there are on all pages.
    pub total: i64,
}

/// A page of buildings within `scope`.
///
/// # Errors
/// When the database does not answer.
pub fn page(conn: &mut AnyConnection, scope: &Scope, wanted: &Wanted, now: Now) -> Result<Page> {
    let total = count(conn, scope, wanted.portfolio)?;
    let mut query = schema::buildings::table
        .order(schema::buildings::code)
        .limit(i64::try_from(wanted.limit).map_err(Error::internal)? + 1)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(schema::buildings::id.eq_any(keys));
    }
    if let Some(portfolio) = wanted.portfolio {
        query = query.filter(schema::buildings::portfolio_id.eq(portfolio.0));
    }
    if let Some(after) = &wanted.after {
        query = query.filter(schema::buildings::code.gt(after.clone()));
    }
    let rows: Vec<buildings::Row> = query.load(conn)?;
    let more = rows.len() > wanted.limit;
    let found = rows
        .into_iter()
        .take(wanted.limit)
        .map(Building::try_from)
        .collect::<Result<Vec<_>>>()?;
    let next = more
        .then(|| found.last().map(|building| building.facts.code.clone()))
        .flatten();
    Ok(Page {
        rows: counted(conn, found, now)?,
        next,
        total,
    })
}

fn count(conn: &mut AnyConnection, scope: &Scope, portfolio: Option<PortfolioId>) -> Result<i64> {
    let mut query = schema::buildings::table.into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(schema::buildings::id.eq_any(keys));
    }
    if let Some(portfolio) = portfolio {
        query = query.filter(schema::buildings::portfolio_id.eq(portfolio.0));
    }
    Ok(query.count().get_result(conn)?)
}

/// The counts of buildings that the caller may see.
///
/// # Errors
/// When the database does not answer.
pub fn counted(conn: &mut AnyConnection, found: Vec<Building>, now: Now) -> Result<Vec<Summary>> {
    let keys: Vec<i64> = found.iter().map(|building| building.id.0).collect();
    let unit_counts: BTreeMap<i64, i64> = units::table
        .filter(units::building_id.eq_any(&keys))
        .group_by(units::building_id)
        .select((units::building_id, count_star()))
        .load::<(i64, i64)>(conn)?
        .into_iter()
        .collect();
    let fixture_counts: BTreeMap<i64, i64> = fixtures::table
        .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
        .inner_join(units::table.on(units::id.eq(tags::unit_id)))
        .filter(units::building_id.eq_any(&keys))
        .filter(fixtures::status.eq(Service::InService.code()))
        .group_by(units::building_id)
        .select((units::building_id, count_star()))
        .load::<(i64, i64)>(conn)?
        .into_iter()
        .collect();
    let overdue = overdue(conn, &found, now)?;
    let open = open(conn, &keys)?;
    Ok(found
        .into_iter()
        .map(|building| Summary {
            units: unit_counts.get(&building.id.0).copied().unwrap_or(0),
            fixtures: fixture_counts.get(&building.id.0).copied().unwrap_or(0),
            overdue: overdue.get(&building.id).copied().unwrap_or(0),
            open: open.get(&building.id).copied().unwrap_or_default(),
            building,
        })
        .collect())
}

/// Overdue items by building; one query for each date that it is somewhere now.
fn overdue(conn: &mut AnyConnection, found: &[Building], now: Now) -> Result<BTreeMap<BuildingId, i64>> {
    let mut by_date: BTreeMap<NaiveDate, BTreeSet<i64>> = BTreeMap::new();
    for building in found {
        let today = now.date_in(building.facts.time_zone);
        by_date.entry(today).or_default().insert(building.id.0);
    }
    let mut counts = BTreeMap::new();
    for (today, keys) in by_date {
        let rows: Vec<(i64, i64)> = due_items::table
            .filter(due_items::building_id.eq_any(keys))
            .filter(due_items::last_day.lt(today))
            .group_by(due_items::building_id)
            .select((due_items::building_id, count_star()))
            .load(conn)?;
        counts.extend(rows.into_iter().map(|(key, count)| (BuildingId(key), count)));
    }
    Ok(counts)
}

fn open(conn: &mut AnyConnection, keys: &[i64]) -> Result<BTreeMap<BuildingId, Open>> {
    let rows: Vec<(i64, String, i64)> = deficiencies::table
        .filter(deficiencies::building_id.eq_any(keys))
        .filter(deficiencies::status.eq_any(["open", "repaired"]))
        .group_by((deficiencies::building_id, deficiencies::severity))
        .select((deficiencies::building_id, deficiencies::severity, count_star()))
        .load(conn)?;
    let mut by_building: BTreeMap<BuildingId, Open> = BTreeMap::new();
    for (key, severity, count) in rows {
        let severity = read_code::<Severity>(&severity)?;
        by_building
            .entry(BuildingId(key))
            .or_default()
            .add(severity, count);
    }
    Ok(by_building)
}
