//! Values that the office may change, by name.

use diesel::prelude::*;

use super::schema::settings;
use super::{AnyConnection, Tx};
use crate::error::Result;

/// The value of a setting, when the office gave one.
///
/// # Errors
/// When the database does not answer.
pub fn get(conn: &mut AnyConnection, key: &str) -> Result<Option<String>> {
    Ok(settings::table
        .find(key)
        .select(settings::value)
        .first(conn)
        .optional()?)
}

/// Sets a value.
///
/// # Errors
/// When the database refuses.
pub fn set(tx: &mut Tx<'_>, key: &str, value: &str) -> Result<()> {
    let changed = diesel::update(settings::table.find(key))
        .set(settings::value.eq(value))
        .execute(&mut **tx)?;
    if changed == 0 {
        diesel::insert_into(settings::table)
            .values((settings::key.eq(key), settings::value.eq(value)))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// Every value whose name begins with `prefix`, by name.
///
/// # Errors
/// When the database does not answer.
pub fn beginning(conn: &mut AnyConnection, prefix: &str) -> Result<Vec<(String, String)>> {
    Ok(settings::table
        .filter(settings::key.like(format!("{prefix}%")))
        .order(settings::key)
        .load(conn)?)
}
