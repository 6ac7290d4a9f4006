//! Checks with every version of their procedure, as JSON of the domain's value. Knows no schedule; decides nothing about what a check
//! may say.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::{check_versions, checks};
use super::{AnyConnection, Tx};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::due::AskedCheck;
use crate::domain::register::CheckId;
use crate::domain::trade::{Check, Origin};
use crate::error::{Error, Result};
use crate::kept::Kept;

/// A check as it is now.
#[derive(Debug, Clone)]
pub struct StoredCheck {
    /// Key.
    pub id: CheckId,
    /// Ours or the users' own.
    pub origin: Origin,
    /// False hides it from new schedules.
    pub active: bool,
    /// The procedure, current version.
    pub check: Arc<Check>,
}

impl StoredCheck {
    /// What a plan needs of it.
    #[must_use]
    pub fn asked(&self) -> AskedCheck {
        AskedCheck {
            id: self.id,
            check: Arc::clone(&self.check),
            active: self.active,
        }
    }
}

type Row = (i64, String, bool, String);

/// Every check, built in ones in the order of the catalogue, then the users' own in the order they were made.
///
/// # Errors
/// When the database does not answer.
pub fn load_all(conn: &mut AnyConnection) -> Result<Vec<StoredCheck>> {
    let rows: Vec<Row> = checks::table
        .order(checks::id)
        .select((checks::id, checks::origin, checks::active, checks::body))
        .load(conn)?;
    rows.into_iter().map(read).collect()
}

/// The check with this code.
///
/// # Errors
/// When the database does not answer.
pub fn by_code(conn: &mut AnyConnection, code: &str) -> Result<Option<StoredCheck>> {
    let row: Option<Row> = checks::table
        .filter(checks::code.eq(code))
        .select((checks::id, checks::origin, checks::active, checks::body))
        .first(conn)
        .optional()?;
    row.map(read).transpose()
}

/// The check with this key.
///
/// # Errors
/// When the database does not answer.
pub fn by_id(conn: &mut AnyConnection, id: CheckId) -> Result<Option<StoredCheck>> {
    let row: Option<Row> = checks::table
        .find(id.0)
        .select((checks::id, checks::origin, checks::active, checks::body))
        .first(conn)
        .optional()?;
    row.map(read).transpose()
}

/// The procedure as it was in a version, for old answers.
///
/// # Errors
/// When the database does not answer.
pub fn by_version(conn: &mut AnyConnection, id: CheckId, version: u32) -> Result<Option<Arc<Check>>> {
    let body: Option<String> = check_versions::table
        .find((id.0, i64::from(version)))
        .select(check_versions::body)
        .first(conn)
        .optional()?;
    body.map(|body| parsed(&body)).transpose()
}

/// The versions of a check, the latest first, each with the instant (UTC) from which it was asked.
///
/// # Errors
/// When the database does not answer.
pub fn versions(conn: &mut AnyConnection, id: CheckId) -> Result<Vec<(u32, NaiveDateTime)>> {
    let rows: Vec<(i64, NaiveDateTime)> = check_versions::table
        .filter(check_versions::check_id.eq(id.0))
        .order(check_versions::version.desc())
        .select((check_versions::version, check_versions::valid_from))
        .load(conn)?;
    rows.into_iter()
        .map(|(version, since)| Ok((u32::try_from(version).map_err(Error::internal)?, since)))
        .collect()
}

/// The key of every check by its code, for imports.
///
/// # Errors
/// When the database does not answer.
pub fn ids_by_code(conn: &mut AnyConnection) -> Result<HashMap<String, CheckId>> {
    let rows: Vec<(String, i64)> = checks::table.select((checks::code, checks::id)).load(conn)?;
    Ok(rows.into_iter().map(|(code, id)| (code, CheckId(id))).collect())
}

/// Stores a new check with its first version.
///
/// # Errors
/// When its code is taken or the database refuses.
pub fn insert(tx: &mut Tx<'_>, now: Now, origin: Origin, check: &Check) -> Result<CheckId> {
    let id: i64 = diesel::insert_into(checks::table)
        .values((
            checks::code.eq(check.code.as_str()),
            checks::origin.eq(origin.code()),
            checks::version.eq(i64::from(check.version)),
            checks::title.eq(&check.title),
            checks::severity.eq(check.severity.code()),
            checks::minutes.eq(check.minutes),
            checks::active.eq(true),
            checks::body.eq(written(check)?),
        ))
        .returning(checks::id)
        .get_result(&mut **tx)?;
    keep_version(tx, now, CheckId(id), check)?;
    Ok(CheckId(id))
}

/// Makes a newer version the current one and keeps the older ones.
///
/// # Errors
/// When there is no such check, the version is already there, or the database refuses.
pub fn update(tx: &mut Tx<'_>, now: Now, id: CheckId, check: &Check) -> Result<()> {
    keep_version(tx, now, id, check)?;
    let changed = diesel::update(checks::table.find(id.0))
        .set((
            checks::version.eq(i64::from(check.version)),
            checks::title.eq(&check.title),
            checks::severity.eq(check.severity.code()),
            checks::minutes.eq(check.minutes),
            checks::body.eq(written(check)?),
        ))
        .execute(&mut **tx)?;
    if changed == 0 {
        return Err(Error::not_found("such check"));
    }
    Ok(())
}

/// Whether a check is offered to new schedules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Offer {
    /// Offered.
    Open,
    /// Hidden; schedules that have it still ask for it.
    Withdrawn,
}

/// Offers a check, or hides it.
///
/// # Errors
/// When the database refuses.
pub fn set_offer(tx: &mut Tx<'_>, id: CheckId, offer: Offer) -> Result<()> {
    diesel::update(checks::table.find(id.0))
        .set(checks::active.eq(offer == Offer::Open))
        .execute(&mut **tx)?;
    Ok(())
}

fn keep_version(tx: &mut Tx<'_>, now: Now, id: CheckId, check: &Check) -> Result<()> {
    diesel::insert_into(check_versions::table)
        .values((
            check_versions::check_id.eq(id.0),
            check_versions::version.eq(i64::from(check.version)),
            check_versions::body.eq(written(check)?),
            check_versions::valid_from.eq(now.0),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

fn read((id, origin, active, body): Row) -> Result<StoredCheck> {
    Ok(StoredCheck {
        id: CheckId(id),
        origin: Origin::from_code(&origin).map_err(Error::internal)?,
        active,
        check: parsed(&body)?,
    })
}

fn written(check: &Check) -> Result<String> {
    serde_json::to_string(check).map_err(Error::internal)
}

/// Bodies that were read lately, more than any office has; every result recorded asks for all of them.
static READ: Kept<String, Arc<Check>> = Kept::new(5_000);

/// The check of a stored body.
///
/// # Errors
/// When the body can't be read.
pub(super) fn parsed(body: &str) -> Result<Arc<Check>> {
    if let Some(check) = READ.get(body) {
        return Ok(check);
    }
    let check: Arc<Check> = Arc::new(serde_json::from_str(body).map_err(Error::internal)?);
    READ.put(body.to_owned(), Arc::clone(&check));
    Ok(check)
}
