//! Buildings as stored, within what a person may see.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use super::schema::{buildings, people, person_buildings, schedules};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Scope, Standing};
use crate::domain::register::{Building, BuildingFacts, BuildingId, PersonId, PortfolioId};
use crate::error::{Error, Result};

/// The keys that a scope is cut to; nothing when it sees every building.
#[must_use]
pub fn keys_of(scope: &Scope) -> Option<Vec<i64>> {
    match scope {
        Scope::All => None,
        Scope::Buildings(buildings) => Some(buildings.iter().map(|id| id.0).collect()),
    }
}

#[derive(Queryable)]
pub(super) struct Row {
    id: i64,
    portfolio_id: i64,
    code: String,
    name: String,
    address: String,
    time_zone: String,
    code_profile: String,
    length_unit: String,
    notice_hours: i64,
    joined_on: NaiveDate,
    built_year: Option<i64>,
    base_joint: String,
    technician_id: Option<i64>,
    _created_at: NaiveDateTime,
}

impl TryFrom<Row> for Building {
    type Error = Error;

    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            id: BuildingId(row.id),
            portfolio: PortfolioId(row.portfolio_id),
            technician: row.technician_id.map(PersonId),
            facts: BuildingFacts {
                code: row.code,
                name: row.name,
                address: row.address,
                time_zone: row.time_zone.parse().map_err(Error::internal)?,
                code_profile: row.code_profile.parse().map_err(Error::internal)?,
                length_unit: Coded::from_code(&row.length_unit).map_err(Error::internal)?,
                notice_hours: row.notice_hours,
                joined_on: row.joined_on,
                built_year: row.built_year,
                base_joint: Coded::from_code(&row.base_joint).map_err(Error::internal)?,
            },
        })
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = buildings, treat_none_as_null = true)]
struct Values<'a> {
    portfolio_id: i64,
    code: &'a str,
    name: &'a str,
    address: &'a str,
    time_zone: &'a str,
    code_profile: &'a str,
    length_unit: &'a str,
    notice_hours: i64,
    joined_on: NaiveDate,
    built_year: Option<i64>,
    base_joint: &'a str,
    technician_id: Option<i64>,
}

fn values<'a>(portfolio: PortfolioId, technician: Option<PersonId>, facts: &'a BuildingFacts) -> Values<'a> {
    Values {
        portfolio_id: portfolio.0,
        code: &facts.code,
        name: &facts.name,
        address: &facts.address,
        time_zone: facts.time_zone.name(),
        code_profile: facts.code_profile.as_str(),
        length_unit: facts.length_unit.code(),
        notice_hours: facts.notice_hours,
        joined_on: facts.joined_on,
        built_year: facts.built_year,
        base_joint: facts.base_joint.code(),
        technician_id: technician.map(|id| id.0),
    }
}

/// Stores a new building.
///
/// # Errors
/// When its code is taken, or the database refuses.
pub fn insert(
    tx: &mut Tx<'_>,
    portfolio: PortfolioId,
    technician: Option<PersonId>,
    facts: &BuildingFacts,
    created_at: NaiveDateTime,
) -> Result<BuildingId> {
    let id: i64 = diesel::insert_into(buildings::table)
        .values((
            values(portfolio, technician, facts),
            buildings::created_at.eq(created_at),
        ))
        .returning(buildings::id)
        .get_result(&mut **tx)?;
    Ok(BuildingId(id))
}

/// Stores what a building is now.
///
/// # Errors
/// When its code is taken, or the database refuses.
pub fn update(tx: &mut Tx<'_>, building: &Building) -> Result<()> {
    diesel::update(buildings::table.find(building.id.0))
        .set(values(building.portfolio, building.technician, &building.facts))
        .execute(&mut **tx)?;
    Ok(())
}

/// The building with this key.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, scope: &Scope, id: BuildingId) -> Result<Building> {
    let row: Option<Row> = buildings::table.find(id.0).first(conn).optional()?;
    seen(scope, row)
}

/// The building with this code; capitals or not.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_code(conn: &mut AnyConnection, scope: &Scope, code: &str) -> Result<Building> {
    let row: Option<Row> = buildings::table
        .filter(buildings::code.eq(code.trim().to_uppercase()))
        .first(conn)
        .optional()?;
    seen(scope, row)
}

fn seen(scope: &Scope, row: Option<Row>) -> Result<Building> {
    row.filter(|row| scope.sees(BuildingId(row.id)))
        .ok_or_else(|| Error::not_found("such building"))?
        .try_into()
}

/// The buildings within `scope`, by code.
///
/// # Errors
/// When the database does not answer.
pub fn list(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<Building>> {
    let mut query = buildings::table.order(buildings::code).into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(buildings::id.eq_any(keys));
    }
    let rows: Vec<Row> = query.load(conn)?;
    rows.into_iter().map(Building::try_from).collect()
}

/// A technician, as a building names one.
#[derive(Debug, Clone)]
pub struct Technician {
    /// Key.
    pub id: PersonId,
    /// As shown.
    pub name: String,
    /// In lower case.
    pub email: String,
}

/// The technicians who may be named for a building: all but disabled ones, by name.
///
/// # Errors
/// When the database does not answer.
pub fn technicians(conn: &mut AnyConnection) -> Result<Vec<Technician>> {
    let rows: Vec<(i64, String, String)> = people::table
        .filter(people::role.eq(Role::Technician.code()))
        .filter(people::status.ne(Standing::Disabled.code()))
        .order((people::name, people::id))
        .select((people::id, people::name, people::email))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(id, name, email)| Technician {
            id: PersonId(id),
            name,
            email,
        })
        .collect())
}

/// Lets a technician see a building, when they don't yet.
///
/// # Errors
/// When the database refuses.
pub fn let_see(tx: &mut Tx<'_>, person: PersonId, building: BuildingId) -> Result<()> {
    let sees: i64 = person_buildings::table
        .filter(person_buildings::person_id.eq(person.0))
        .filter(person_buildings::building_id.eq(building.0))
        .count()
        .get_result(&mut **tx)?;
    if sees == 0 {
        diesel::insert_into(person_buildings::table)
            .values((
                person_buildings::person_id.eq(person.0),
                person_buildings::building_id.eq(building.0),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// The code of a schedule whose scope names this building.
///
/// # Errors
/// When the database does not answer.
pub fn schedule_that_names(conn: &mut AnyConnection, building: &str) -> Result<Option<String>> {
    let rows: Vec<(String, String)> = schedules::table
        .filter(schedules::scope_buildings.ne(""))
        .order(schedules::code)
        .select((schedules::code, schedules::scope_buildings))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .find(|(_, scope)| scope.split_whitespace().any(|code| code == building))
        .map(|(code, _)| code))
}
