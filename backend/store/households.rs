//! Households as stored. Callers give a unit that the asker may see; what of a household is shown to whom is decided in
//! `domain::register::household`.

use chrono::NaiveDate;
use diesel::prelude::*;

use super::schema::households;
use super::{AnyConnection, Tx};
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, Household, HouseholdFacts, HouseholdId, Unit, UnitId};
use crate::error::{Error, Result};

#[derive(Queryable)]
pub(super) struct Row {
    id: i64,
    unit_id: i64,
    name: String,
    language: String,
    contact: String,
    agreed_hours: String,
    no_entry_days: String,
    moved_in_on: NaiveDate,
    moved_out_on: Option<NaiveDate>,
}

impl From<Row> for Household {
    fn from(row: Row) -> Self {
        Self {
            id: HouseholdId(row.id),
            unit: UnitId(row.unit_id),
            moved_out_on: row.moved_out_on,
            facts: HouseholdFacts {
                name: row.name,
                language: row.language,
                contact: row.contact,
                agreed_hours: row.agreed_hours,
                no_entry_days: row.no_entry_days,
                moved_in_on: row.moved_in_on,
            },
        }
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = households, treat_none_as_null = true)]
struct Values<'a> {
    name: &'a str,
    language: &'a str,
    contact: &'a str,
    agreed_hours: &'a str,
    no_entry_days: &'a str,
    moved_in_on: NaiveDate,
    moved_out_on: Option<NaiveDate>,
}

fn values(facts: &HouseholdFacts, moved_out_on: Option<NaiveDate>) -> Values<'_> {
    Values {
        name: &facts.name,
        language: &facts.language,
        contact: &facts.contact,
        agreed_hours: &facts.agreed_hours,
        no_entry_days: &facts.no_entry_days,
        moved_in_on: facts.moved_in_on,
        moved_out_on,
    }
}

/// Stores a household that moves in.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, unit: UnitId, facts: &HouseholdFacts) -> Result<HouseholdId> {
    let id: i64 = diesel::insert_into(households::table)
        .values((values(facts, None), households::unit_id.eq(unit.0)))
        .returning(households::id)
        .get_result(&mut **tx)?;
    Ok(HouseholdId(id))
}

/// Stores what is known of a household now, its move-out included.
///
/// # Errors
/// When the database refuses.
pub fn update(tx: &mut Tx<'_>, household: &Household) -> Result<()> {
    diesel::update(households::table.find(household.id.0))
        .set(values(&household.facts, household.moved_out_on))
        .execute(&mut **tx)?;
    Ok(())
}

/// The household with this key, with its building and unit.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_key(
    conn: &mut AnyConnection,
    scope: &Scope,
    id: HouseholdId,
) -> Result<(Building, Unit, Household)> {
    let row: Option<Row> = households::table.find(id.0).first(conn).optional()?;
    let household: Household = row.ok_or_else(|| Error::not_found("such household"))?.into();
    let (building, unit) =
        super::units::by_key(conn, scope, household.unit).map_err(|error| match error {
            Error::NotFound(_) => Error::not_found("such household"),
            other => other,
        })?;
    Ok((building, unit, household))
}

/// The households of a unit, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Household>> {
    let rows: Vec<Row> = households::table
        .filter(households::unit_id.eq(unit.0))
        .order((households::moved_in_on.desc(), households::id.desc()))
        .load(conn)?;
    Ok(rows.into_iter().map(Household::from).collect())
}
