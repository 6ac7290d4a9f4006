//! Open leaks with the water that they lose, and when somebody next enters a unit anyway.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, UnitId};
use crate::domain::result::DeficiencyStatus;
use crate::domain::trade::Severity;
use crate::domain::trade::water::Loss;
use crate::domain::visit::VisitStatus;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::buildings::keys_of;
use crate::store::coded::read_code;
use crate::store::schema::{buildings, checks, deficiencies, due_items, tags, units, visits, water_losses};

/// An open deficiency that loses water.
#[derive(Debug, Clone, PartialEq)]
pub struct Leak {
    /// Which one.
    pub id: DeficiencyId,
    /// Where.
    pub building: BuildingId,
    /// Code of the building.
    pub building_code: String,
    /// In which unit.
    pub unit: UnitId,
    /// As on the door.
    pub unit_label: String,
    /// At which place, empty when none was named.
    pub tag: String,
    /// Which check failed; none for a report.
    pub check: Option<CheckId>,
    /// What is wrong.
    pub title: String,
    /// How grave.
    pub severity: Severity,
    /// What it loses, by the latest measurement; none when nobody has measured.
    pub loss: Option<Loss>,
}

type Row = (
    i64,
    i64,
    String,
    i64,
    String,
    Option<String>,
    Option<i64>,
    String,
    String,
);

/// The open deficiencies that lose water: those that were measured, and those of a check whose failure does (`leaking`, codes). A repaired
/// one that waits for its re-check is left out. The largest loss first, then those not measured.
///
/// # Errors
/// When the database does not answer.
pub fn leaks(
    conn: &mut AnyConnection,
    scope: &Scope,
    building: Option<BuildingId>,
    leaking: &[&str],
) -> Result<Vec<Leak>> {
    let checks_that_leak: Vec<i64> = checks::table
        .filter(checks::code.eq_any(leaking))
        .select(checks::id)
        .load(conn)?;
    let measured_once = water_losses::table.select(water_losses::deficiency_id);
    let mut query = deficiencies::table
        .inner_join(buildings::table)
        .inner_join(units::table)
        .left_join(tags::table)
        .filter(deficiencies::status.eq(DeficiencyStatus::Open.code()))
        .filter(
            deficiencies::check_id
                .is_not_null()
                .and(deficiencies::check_id.assume_not_null().eq_any(checks_that_leak))
                .or(deficiencies::id.eq_any(measured_once)),
        )
        .order(deficiencies::id)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(deficiencies::building_id.eq_any(keys));
    }
    if let Some(building) = building {
        query = query.filter(deficiencies::building_id.eq(building.0));
    }
    let rows: Vec<Row> = query
        .select((
            deficiencies::id,
            buildings::id,
            buildings::code,
            units::id,
            units::label,
            tags::label.nullable(),
            deficiencies::check_id,
            deficiencies::title,
            deficiencies::severity,
        ))
        .load(conn)?;
    let ids: Vec<i64> = rows.iter().map(|row| row.0).collect();
    let mut measured = latest(conn, &ids)?;
    let mut found = Vec::new();
    for (id, building, building_code, unit, unit_label, tag, check, title, severity) in rows {
        found.push(Leak {
            id: DeficiencyId(id),
            building: BuildingId(building),
            building_code,
            unit: UnitId(unit),
            unit_label,
            tag: tag.unwrap_or_default(),
            check: check.map(CheckId),
            title,
            severity: read_code(&severity)?,
            loss: measured.remove(&id),
        });
    }
    let litres = |leak: &Leak| leak.loss.as_ref().map_or(-1.0, Loss::litres_a_day);
    found.sort_by(|one, other| litres(other).total_cmp(&litres(one)));
    Ok(found)
}

/// The latest measurement of each deficiency.
fn latest(conn: &mut AnyConnection, ids: &[i64]) -> Result<BTreeMap<i64, Loss>> {
    let mut found = BTreeMap::new();
    for chunk in ids.chunks(500) {
        let rows: Vec<(i64, f64, String)> = water_losses::table
            .filter(water_losses::deficiency_id.eq_any(chunk.iter().copied()))
            .order((water_losses::measured_at, water_losses::id))
            .select((
                water_losses::deficiency_id,
                water_losses::litres_a_day,
                water_losses::convention,
            ))
            .load(conn)?;
        found.extend(
            rows.into_iter()
                .map(|(id, litres, convention)| (id, Loss::kept(litres, &convention))),
        );
    }
    Ok(found)
}

/// Why somebody enters a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Entry {
    /// A visit is planned.
    Visit,
    /// A check falls due.
    Check,
}

/// When somebody next enters a unit anyway: the first planned visit from today on, else the first check that falls due; one that is due already
/// brings somebody today.
///
/// # Errors
/// When the database does not answer.
pub fn next_entry(
    conn: &mut AnyConnection,
    unit: UnitId,
    today: NaiveDate,
) -> Result<Option<(NaiveDate, Entry)>> {
    let visit: Option<NaiveDate> = visits::table
        .filter(visits::unit_id.eq(unit.0))
        .filter(visits::status.eq(VisitStatus::Planned.code()))
        .filter(visits::on_date.ge(today))
        .select(diesel::dsl::min(visits::on_date))
        .first(conn)?;
    if let Some(on) = visit {
        return Ok(Some((on, Entry::Visit)));
    }
    let due: Option<NaiveDate> = due_items::table
        .filter(due_items::unit_id.eq(unit.0))
        .select(diesel::dsl::min(due_items::due))
        .first(conn)?;
    Ok(due.map(|on| (on.max(today), Entry::Check)))
}
