//! The list of visits: planned ones by day, or closed ones with the latest first, cut to what a person may see, by pages of a key.

use std::collections::HashMap;

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::dsl::{count, count_star, sum};
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, PersonId, UnitId, VisitId};
use crate::domain::visit::VisitStatus;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::buildings::keys_of;
use crate::store::coded::read_code;
use crate::store::schema::{buildings, checks, people, results, units, visit_items, visits};

/// Which visits are asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Wanted {
    /// Planned ones, the nearest day first.
    #[default]
    Planned,
    /// One way of closing, the latest day first.
    Only(VisitStatus),
    /// All that are closed, the latest day first.
    Closed,
}

/// Which visits are asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Filter {
    /// By state.
    pub wanted: Wanted,
    /// In one building.
    pub building: Option<BuildingId>,
    /// Into one unit.
    pub unit: Option<UnitId>,
    /// Of one technician.
    pub technician: Option<PersonId>,
}

/// The last row of the page before.
pub type Cursor = (NaiveDate, VisitId);

/// A row.
#[derive(Debug, Clone)]
pub struct Line {
    /// Key.
    pub id: VisitId,
    /// Local date.
    pub on_date: NaiveDate,
    /// How it went.
    pub status: VisitStatus,
    /// Why there was no access, or why it was cancelled.
    pub reason: String,
    /// Code of the building.
    pub building_code: String,
    /// Zone of the building.
    pub zone: Tz,
    /// Into which unit.
    pub unit: UnitId,
    /// As on the door.
    pub unit_label: String,
    /// Who goes; none while nobody is named.
    pub technician: Option<String>,
    /// Checks it serves.
    pub checks: i64,
    /// Minutes of those checks.
    pub minutes: f64,
    /// Deficiencies it serves.
    pub repairs: i64,
    /// Results that were recorded on it.
    pub recorded: i64,
}

type Row = (
    i64,
    NaiveDate,
    String,
    String,
    String,
    String,
    i64,
    String,
    Option<String>,
);

/// At most `limit` rows after the cursor.
///
/// # Errors
/// When the database does not answer.
pub fn list(
    conn: &mut AnyConnection,
    scope: &Scope,
    filter: &Filter,
    after: Option<Cursor>,
    limit: usize,
) -> Result<Vec<Line>> {
    let mut query = visits::table
        .inner_join(buildings::table)
        .inner_join(units::table)
        .left_join(people::table.on(people::id.nullable().eq(visits::technician_id)))
        .limit(i64::try_from(limit).map_err(Error::internal)?)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(visits::building_id.eq_any(keys));
    }
    if let Some(building) = filter.building {
        query = query.filter(visits::building_id.eq(building.0));
    }
    if let Some(unit) = filter.unit {
        query = query.filter(visits::unit_id.eq(unit.0));
    }
    if let Some(technician) = filter.technician {
        query = query.filter(visits::technician_id.eq(technician.0));
    }
    query = match filter.wanted {
        Wanted::Planned => query.filter(visits::status.eq(VisitStatus::Planned.code())),
        Wanted::Only(status) => query.filter(visits::status.eq(status.code())),
        Wanted::Closed => query.filter(visits::status.ne(VisitStatus::Planned.code())),
    };
    let is_ahead = matches!(
        filter.wanted,
        Wanted::Planned | Wanted::Only(VisitStatus::Planned)
    );
    query = if is_ahead {
        query.order((visits::on_date, visits::id))
    } else {
        query.order((visits::on_date.desc(), visits::id.desc()))
    };
    if let Some((day, id)) = after {
        query = if is_ahead {
            query.filter(
                visits::on_date
                    .gt(day)
                    .or(visits::on_date.eq(day).and(visits::id.gt(id.0))),
            )
        } else {
            query.filter(
                visits::on_date
                    .lt(day)
                    .or(visits::on_date.eq(day).and(visits::id.lt(id.0))),
            )
        };
    }
    let rows: Vec<Row> = query
        .select((
            visits::id,
            visits::on_date,
            visits::status,
            visits::reason,
            buildings::code,
            buildings::time_zone,
            visits::unit_id,
            units::label,
            people::name.nullable(),
        ))
        .load(conn)?;
    let served = served(conn, &rows)?;
    rows.into_iter().map(|row| line(row, &served)).collect()
}

/// Checks, their minutes, repairs and results by visit.
#[derive(Debug, Clone, Copy, Default)]
struct Counted {
    checks: i64,
    minutes: f64,
    repairs: i64,
    recorded: i64,
}

type Served = HashMap<i64, Counted>;

fn served(conn: &mut AnyConnection, rows: &[Row]) -> Result<Served> {
    let counted: Vec<(i64, i64, Option<f64>, i64)> = visit_items::table
        .left_join(checks::table)
        .filter(visit_items::visit_id.eq_any(rows.iter().map(|row| row.0)))
        .group_by(visit_items::visit_id)
        .select((
            visit_items::visit_id,
            count(visit_items::check_id),
            sum(checks::minutes.nullable()),
            count(visit_items::deficiency_id),
        ))
        .load(conn)?;
    let mut served = Served::new();
    for (visit, checks, minutes, repairs) in counted {
        let minutes = minutes.unwrap_or(0.0);
        let counted = Counted {
            checks,
            minutes,
            repairs,
            recorded: 0,
        };
        served.insert(visit, counted);
    }
    let recorded: Vec<(Option<i64>, i64)> = results::table
        .filter(results::visit_id.eq_any(rows.iter().map(|row| Some(row.0))))
        .group_by(results::visit_id)
        .select((results::visit_id, count_star()))
        .load(conn)?;
    for (visit, recorded) in recorded {
        if let Some(visit) = visit {
            served.entry(visit).or_default().recorded = recorded;
        }
    }
    Ok(served)
}

fn line(row: Row, served: &Served) -> Result<Line> {
    let (id, on_date, status, reason, building_code, zone, unit, unit_label, technician) = row;
    let counted = served.get(&id).copied().unwrap_or_default();
    Ok(Line {
        id: VisitId(id),
        on_date,
        status: read_code(&status)?,
        reason,
        building_code,
        zone: zone.parse().map_err(Error::internal)?,
        unit: UnitId(unit),
        unit_label,
        technician,
        checks: counted.checks,
        minutes: counted.minutes,
        repairs: counted.repairs,
        recorded: counted.recorded,
    })
}
