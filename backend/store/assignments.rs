//! Which buildings a technician works in and which portfolios an owner sees; a manager sees all and is assigned to none.

use std::collections::BTreeMap;

use diesel::prelude::*;

use super::schema::{buildings, person_buildings, person_portfolios, portfolios};
use super::{AnyConnection, Tx};
use crate::domain::register::person::{Role, Scope};
use crate::domain::register::{BuildingId, PersonId};
use crate::error::{Error, Result};

/// A building or portfolio that a person can be assigned to.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct Place {
    /// Key of the building or portfolio.
    pub id: i64,
    /// Short code.
    pub code: String,
    /// As shown.
    pub name: String,
}

/// Every place that people of a role are assigned to: buildings for technicians, portfolios for owners, none for managers.
///
/// # Errors
/// When the database does not answer.
pub fn choices(conn: &mut AnyConnection, role: Role) -> Result<Vec<Place>> {
    Ok(match role {
        Role::Manager => Vec::new(),
        Role::Technician => buildings::table
            .order(buildings::code)
            .select((buildings::id, buildings::code, buildings::name))
            .load(conn)?,
        Role::Owner => portfolios::table
            .order(portfolios::code)
            .select((portfolios::id, portfolios::code, portfolios::name))
            .load(conn)?,
    })
}

/// The codes of the places of everybody, by person.
///
/// # Errors
/// When the database does not answer.
pub fn by_person(conn: &mut AnyConnection) -> Result<BTreeMap<PersonId, Vec<Place>>> {
    let at_buildings: Vec<(i64, Place)> = person_buildings::table
        .inner_join(buildings::table)
        .order(buildings::code)
        .select((
            person_buildings::person_id,
            (buildings::id, buildings::code, buildings::name),
        ))
        .load(conn)?;
    let in_portfolios: Vec<(i64, Place)> = person_portfolios::table
        .inner_join(portfolios::table)
        .order(portfolios::code)
        .select((
            person_portfolios::person_id,
            (portfolios::id, portfolios::code, portfolios::name),
        ))
        .load(conn)?;
    let mut places: BTreeMap<PersonId, Vec<Place>> = BTreeMap::new();
    for (person, place) in at_buildings.into_iter().chain(in_portfolios) {
        places.entry(PersonId(person)).or_default().push(place);
    }
    Ok(places)
}

/// The keys of the places with these codes, for a role.
///
/// # Errors
/// A sentence for the field `places` that names the code that there is not.
pub fn with_codes(conn: &mut AnyConnection, role: Role, codes: &[String]) -> Result<Vec<i64>> {
    let known = choices(conn, role)?;
    codes
        .iter()
        .map(|code| {
            known
                .iter()
                .find(|place| place.code.eq_ignore_ascii_case(code))
                .map(|place| place.id)
                .ok_or_else(|| Error::field("places", missing(role, code, known.len())))
        })
        .collect()
}

fn missing(role: Role, code: &str, known: usize) -> String {
    match role {
        Role::Manager => format!("A manager sees every building; leave “{code}” out."),
        Role::Technician => {
            format!("There is no building “{code}” among the {known} here. Choose one that there is.")
        }
        Role::Owner => {
            format!("There is no portfolio “{code}” among the {known} here. Choose one that there is.")
        }
    }
}

/// Replaces the places of a person by these, of the kind that belongs to the role.
///
/// # Errors
/// When the database refuses.
pub fn replace(tx: &mut Tx<'_>, person: PersonId, role: Role, places: &[i64]) -> Result<()> {
    diesel::delete(person_buildings::table.filter(person_buildings::person_id.eq(person.0)))
        .execute(&mut **tx)?;
    diesel::delete(person_portfolios::table.filter(person_portfolios::person_id.eq(person.0)))
        .execute(&mut **tx)?;
    for &place in places {
        match role {
            Role::Manager => {}
            Role::Technician => {
                diesel::insert_into(person_buildings::table)
                    .values((
                        person_buildings::person_id.eq(person.0),
                        person_buildings::building_id.eq(place),
                    ))
                    .execute(&mut **tx)?;
            }
            Role::Owner => {
                diesel::insert_into(person_portfolios::table)
                    .values((
                        person_portfolios::person_id.eq(person.0),
                        person_portfolios::portfolio_id.eq(place),
                    ))
                    .execute(&mut **tx)?;
            }
        }
    }
    Ok(())
}

/// What a person may see: the one place where a role becomes a set of buildings.
///
/// # Errors
/// When the database does not answer.
pub fn scope_of(conn: &mut AnyConnection, person: PersonId, role: Role) -> Result<Scope> {
    let seen: Vec<i64> = match role {
        Role::Manager => return Ok(Scope::All),
        Role::Technician => person_buildings::table
            .filter(person_buildings::person_id.eq(person.0))
            .select(person_buildings::building_id)
            .load(conn)?,
        Role::Owner => buildings::table
            .inner_join(
                person_portfolios::table.on(person_portfolios::portfolio_id.eq(buildings::portfolio_id)),
            )
            .filter(person_portfolios::person_id.eq(person.0))
            .select(buildings::id)
            .load(conn)?,
    };
    Ok(Scope::Buildings(seen.into_iter().map(BuildingId).collect()))
}

/// The names of the buildings within a scope and of their portfolios, for words that a password may not hold.
///
/// # Errors
/// When the database does not answer.
pub fn names_within(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<String>> {
    let mut query = buildings::table
        .inner_join(portfolios::table)
        .select((buildings::name, portfolios::name))
        .into_boxed();
    if let Scope::Buildings(seen) = scope {
        query = query.filter(buildings::id.eq_any(seen.iter().map(|building| building.0)));
    }
    let pairs: Vec<(String, String)> = query.load(conn)?;
    let mut names: Vec<String> = pairs.into_iter().flat_map(|(one, other)| [one, other]).collect();
    names.sort();
    names.dedup();
    Ok(names)
}
