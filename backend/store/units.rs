//! Units and common areas as stored, within what a person may see.

use diesel::prelude::*;

use super::schema::{buildings, turnovers, units};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::label::sort_order;
use crate::domain::register::person::Scope;
use crate::domain::register::unit::spread_of;
use crate::domain::register::{
    Building, BuildingId, Occupancy, TurnoverId, Unit, UnitFacts, UnitId, UnitKind,
};
use crate::error::{Error, Result};

#[derive(Queryable)]
pub(super) struct Row {
    id: i64,
    building_id: i64,
    label: String,
    _label_order: String,
    kind: String,
    floor: i64,
    riser: Option<i64>,
    occupancy: String,
    spread_ppm: i64,
}

impl TryFrom<Row> for Unit {
    type Error = Error;

    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            id: UnitId(row.id),
            building: BuildingId(row.building_id),
            spread_ppm: row.spread_ppm,
            facts: UnitFacts {
                label: row.label,
                kind: Coded::from_code(&row.kind).map_err(Error::internal)?,
                floor: row.floor,
                riser: row.riser,
                occupancy: Coded::from_code(&row.occupancy).map_err(Error::internal)?,
            },
        })
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = units, treat_none_as_null = true)]
struct Values<'a> {
    label: &'a str,
    label_order: String,
    kind: &'a str,
    floor: i64,
    riser: Option<i64>,
    occupancy: &'a str,
}

fn values(facts: &UnitFacts) -> Values<'_> {
    Values {
        label: &facts.label,
        label_order: sort_order(&facts.label),
        kind: facts.kind.code(),
        floor: facts.floor,
        riser: facts.riser,
        occupancy: facts.occupancy.code(),
    }
}

/// Stores a new unit and gives it its place in the first interval.
///
/// # Errors
/// When its label is taken in the building, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, building: BuildingId, facts: &UnitFacts) -> Result<UnitId> {
    let id: i64 = diesel::insert_into(units::table)
        .values((
            values(facts),
            units::building_id.eq(building.0),
            units::spread_ppm.eq(0),
        ))
        .returning(units::id)
        .get_result(&mut **tx)?;
    diesel::update(units::table.find(id))
        .set(units::spread_ppm.eq(spread_of(UnitId(id))))
        .execute(&mut **tx)?;
    Ok(UnitId(id))
}

/// Stores what a unit is now; its place in the first interval stays.
///
/// # Errors
/// When its label is taken in the building, or the database refuses.
pub fn update(tx: &mut Tx<'_>, unit: &Unit) -> Result<()> {
    diesel::update(units::table.find(unit.id.0))
        .set(values(&unit.facts))
        .execute(&mut **tx)?;
    Ok(())
}

/// Stores the state of a unit.
///
/// # Errors
/// When the database refuses.
pub fn set_occupancy(tx: &mut Tx<'_>, id: UnitId, occupancy: Occupancy) -> Result<()> {
    diesel::update(units::table.find(id.0))
        .set(units::occupancy.eq(occupancy.code()))
        .execute(&mut **tx)?;
    Ok(())
}

/// The unit with this key, with its building.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, scope: &Scope, id: UnitId) -> Result<(Building, Unit)> {
    let found: Option<(super::buildings::Row, Row)> = buildings::table
        .inner_join(units::table.on(units::building_id.eq(buildings::id)))
        .filter(units::id.eq(id.0))
        .select((buildings::all_columns, units::all_columns))
        .first(conn)
        .optional()?;
    let (building, unit) = found.ok_or_else(|| Error::not_found("such unit"))?;
    let (building, unit) = (Building::try_from(building)?, Unit::try_from(unit)?);
    if !scope.sees(building.id) {
        return Err(Error::not_found("such unit"));
    }
    Ok((building, unit))
}

/// The unit with this label in a building that the caller may see.
///
/// # Errors
/// When the database does not answer.
pub fn by_label(conn: &mut AnyConnection, building: BuildingId, label: &str) -> Result<Option<Unit>> {
    let row: Option<Row> = units::table
        .filter(units::building_id.eq(building.0))
        .filter(units::label.eq(label.trim()))
        .first(conn)
        .optional()?;
    row.map(Unit::try_from).transpose()
}

/// The units with this label, capitals or not, in one building or in all within `scope`; at most 500.
///
/// # Errors
/// When the database does not answer.
pub fn with_label(
    conn: &mut AnyConnection,
    scope: &Scope,
    building: Option<BuildingId>,
    label: &str,
) -> Result<Vec<UnitId>> {
    let label = label.trim();
    let spellings = [label.to_owned(), label.to_uppercase(), label.to_lowercase()];
    let mut query = units::table
        .filter(units::label.eq_any(spellings))
        .order(units::id)
        .limit(500)
        .select((units::id, units::building_id))
        .into_boxed();
    if let Some(building) = building {
        query = query.filter(units::building_id.eq(building.0));
    }
    let rows: Vec<(i64, i64)> = query.load(conn)?;
    let seen = rows
        .into_iter()
        .filter(|(_, there)| scope.sees(BuildingId(*there)));
    Ok(seen.map(|(id, _)| UnitId(id)).collect())
}

/// The units of a building that the caller may see, by label as people count.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<Unit>> {
    let rows: Vec<Row> = units::table
        .filter(units::building_id.eq(building.0))
        .order((units::label_order, units::id))
        .load(conn)?;
    rows.into_iter().map(Unit::try_from).collect()
}

/// The turnover of the unit that is open.
///
/// # Errors
/// When the database does not answer.
pub fn open_turnover(conn: &mut AnyConnection, unit: UnitId) -> Result<Option<TurnoverId>> {
    let open: Option<i64> = turnovers::table
        .filter(turnovers::unit_id.eq(unit.0))
        .filter(turnovers::stage.eq_any(super::turnovers::OPEN))
        .select(turnovers::id)
        .first(conn)
        .optional()?;
    Ok(open.map(TurnoverId))
}

/// The riser of each unit of a building; none where it is unknown.
///
/// # Errors
/// When the database does not answer.
pub fn risers(
    conn: &mut AnyConnection,
    building: BuildingId,
) -> Result<std::collections::HashMap<UnitId, Option<i64>>> {
    let rows: Vec<(i64, Option<i64>)> = units::table
        .filter(units::building_id.eq(building.0))
        .select((units::id, units::riser))
        .load(conn)?;
    Ok(rows.into_iter().map(|(id, riser)| (UnitId(id), riser)).collect())
}

/// The keys of all rental units, in the order in which they came.
///
/// # Errors
/// When the database does not answer.
pub fn rentals(conn: &mut AnyConnection) -> Result<Vec<UnitId>> {
    let keys: Vec<i64> = units::table
        .filter(units::kind.eq(UnitKind::Unit.code()))
        .order(units::id)
        .select(units::id)
        .load(conn)?;
    Ok(keys.into_iter().map(UnitId).collect())
}
