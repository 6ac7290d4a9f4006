//! What stands, is due and is wrong in each unit of a building, for the elevation and the table beneath it.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use diesel::dsl::{case_when, count, count_star};
use diesel::prelude::*;
use diesel::sql_types::Integer;

use super::buildings::Open;
use super::due::Count;
use crate::domain::code::Coded;
use crate::domain::register::{BuildingId, Service, UnitId};
use crate::domain::trade::Severity;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::coded::read_code;
use crate::store::schema::{deficiencies, due_items, fixtures, tags, units};

/// The counts of one unit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counts {
    /// Fixtures in service.
    pub fixtures: i64,
    /// Checks that can be done.
    pub checks: Count,
    /// Deficiencies that are not closed.
    pub open: Open,
}

/// The counts of every unit of a building that the caller may see; a unit without anything is left out.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(
    conn: &mut AnyConnection,
    building: BuildingId,
    today: NaiveDate,
) -> Result<BTreeMap<UnitId, Counts>> {
    let mut all: BTreeMap<UnitId, Counts> = BTreeMap::new();
    let standing: Vec<(i64, i64)> = fixtures::table
        .inner_join(tags::table.on(tags::id.eq(fixtures::tag_id)))
        .inner_join(units::table.on(units::id.eq(tags::unit_id)))
        .filter(units::building_id.eq(building.0))
        .filter(fixtures::status.eq(Service::InService.code()))
        .group_by(tags::unit_id)
        .select((tags::unit_id, count_star()))
        .load(conn)?;
    for (unit, fixtures) in standing {
        all.entry(UnitId(unit)).or_default().fixtures = fixtures;
    }
    let open: Vec<(i64, i64, i64, i64)> = due_items::table
        .filter(due_items::building_id.eq(building.0))
        .filter(due_items::opens.le(today))
        .group_by(due_items::unit_id)
        .select((
            due_items::unit_id,
            count(case_when(due_items::last_day.lt(today), 1.into_sql::<Integer>())),
            count(case_when(due_items::due.le(today), 1.into_sql::<Integer>())),
            count_star(),
        ))
        .load(conn)?;
    for (unit, overdue, due_or_over, open) in open {
        all.entry(UnitId(unit)).or_default().checks = Count::of_sums(overdue, due_or_over, open);
    }
    let wrong: Vec<(i64, String, i64)> = deficiencies::table
        .filter(deficiencies::building_id.eq(building.0))
        .filter(deficiencies::status.eq_any(["open", "repaired"]))
        .group_by((deficiencies::unit_id, deficiencies::severity))
        .select((deficiencies::unit_id, deficiencies::severity, count_star()))
        .load(conn)?;
    for (unit, severity, number) in wrong {
        let severity = read_code::<Severity>(&severity)?;
        all.entry(UnitId(unit)).or_default().open.add(severity, number);
    }
    Ok(all)
}
