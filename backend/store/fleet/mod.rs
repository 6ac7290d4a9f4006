//! The whole fleet in and out, in bulk: buildings with everything that stands in them, a few queries for many.
//!
//! Reads give `Inventory` values, a batch of buildings at a time; writes store what became of one building: new lines in statements
//! of many rows, changed lines one by one. What became of nothing is never taken away.

mod insert;
mod keys;
mod load;
mod save;

use std::collections::HashMap;

use diesel::prelude::*;

use super::AnyConnection;
use super::buildings::keys_of;
use super::schema::{buildings, checks, people, prior_done, tags, units};
use crate::domain::code::Coded;
use crate::domain::register::inventory::PriorCheck;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, PersonId};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};

pub use load::load;
pub use save::{Register, save};

/// Buildings that are read at a time.
pub const BATCH: usize = 50;

/// The keys of the buildings within `scope`, by code.
///
/// # Errors
/// When the database does not answer.
pub fn buildings(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<BuildingId>> {
    let mut query = buildings::table
        .order(buildings::code)
        .select(buildings::id)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(buildings::id.eq_any(keys));
    }
    let ids: Vec<i64> = query.load(conn)?;
    Ok(ids.into_iter().map(BuildingId).collect())
}

/// The keys of the buildings with these codes, as far as there are any.
///
/// # Errors
/// When the database does not answer.
pub fn by_codes(conn: &mut AnyConnection, codes: &[String]) -> Result<HashMap<String, BuildingId>> {
    let rows: Vec<(String, i64)> = buildings::table
        .filter(buildings::code.eq_any(codes))
        .select((buildings::code, buildings::id))
        .load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(code, id)| (code, BuildingId(id)))
        .collect())
}

/// The checks that were last done somewhere within `scope` before the register knew of it, in order.
///
/// # Errors
/// When the database does not answer.
pub fn prior_checks(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<PriorCheck>> {
    let mut query = prior_done::table
        .inner_join(checks::table)
        .inner_join(tags::table.inner_join(units::table))
        .select((checks::code, prior_done::part))
        .distinct()
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(units::building_id.eq_any(keys));
    }
    let rows: Vec<(String, String)> = query.load(conn)?;
    let mut checks = rows
        .into_iter()
        .map(|(check, part)| prior_check(check, &part))
        .collect::<Result<Vec<_>>>()?;
    checks.sort();
    Ok(checks)
}

fn prior_check(check: String, part: &str) -> Result<PriorCheck> {
    let part = match part {
        "" => None,
        code => Some(PartKind::from_code(code).map_err(Error::internal)?),
    };
    Ok(PriorCheck { check, part })
}

/// The technicians by mail address, disabled ones too: a building may still name one.
///
/// # Errors
/// When the database does not answer.
pub fn technicians(conn: &mut AnyConnection) -> Result<HashMap<String, PersonId>> {
    let rows: Vec<(String, i64)> = people::table.select((people::email, people::id)).load(conn)?;
    Ok(rows
        .into_iter()
        .map(|(email, id)| (email, PersonId(id)))
        .collect())
}
