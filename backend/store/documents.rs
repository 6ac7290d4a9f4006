//! Issued papers, kept byte for byte with their SHA-256. A paper is inserted once and read for ever; nothing here changes or
//! deletes one, and one whose bytes no longer match their sum is not given out.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::dsl::max;
use diesel::prelude::*;
use sha2::{Digest as _, Sha256};

use super::coded::read_code;
use super::schema::documents;
use super::{AnyConnection, Tx};
use crate::coded;
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, DocumentId, PersonId, TurnoverId};
use crate::error::{Error, Result};

coded! {
    /// What an issued paper is.
    DocumentKind "kind of document" {
        /// The condition of a building on a day.
        Condition = "condition",
        /// The signed record of a turnover.
        Turnover = "turnover",
    }
}

/// A paper to be issued. Its number is taken before, with [`next_number`], in the same transaction, so that it can stand in the paper.
#[derive(Debug, Clone)]
pub struct NewDocument<'a> {
    /// What it is.
    pub kind: DocumentKind,
    /// Of which building.
    pub building: BuildingId,
    /// Of which turnover; none for other kinds.
    pub turnover: Option<TurnoverId>,
    /// Counts in the building and kind, 1 up.
    pub number: i64,
    /// The local date it speaks of.
    pub as_of: NaiveDate,
    /// Of the bytes, such as `text/csv`.
    pub media_type: &'a str,
    /// Offered on download; ASCII.
    pub file_name: &'a str,
    /// The paper itself.
    pub bytes: &'a [u8],
    /// UTC.
    pub issued_at: NaiveDateTime,
    /// Who issued it; none for the command line.
    pub issued_by: Option<PersonId>,
}

/// An issued paper without its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Key.
    pub id: DocumentId,
    /// What it is.
    pub kind: DocumentKind,
    /// Of which building.
    pub building: BuildingId,
    /// Of which turnover; none for other kinds.
    pub turnover: Option<TurnoverId>,
    /// Counts in the building and kind, 1 up.
    pub number: i64,
    /// The local date it speaks of.
    pub as_of: NaiveDate,
    /// Of the bytes.
    pub media_type: String,
    /// Offered on download.
    pub file_name: String,
    /// Of the bytes, hexadecimal.
    pub sha256: String,
    /// UTC.
    pub issued_at: NaiveDateTime,
    /// Who issued it; none for the command line.
    pub issued_by: Option<PersonId>,
}

#[derive(Queryable)]
struct Row {
    id: i64,
    kind: String,
    building_id: i64,
    turnover_id: Option<i64>,
    number: i64,
    as_of: NaiveDate,
    media_type: String,
    file_name: String,
    sha256: String,
    issued_at: NaiveDateTime,
    issued_by: Option<i64>,
}

impl Row {
    fn read(self) -> Result<Document> {
        Ok(Document {
            id: DocumentId(self.id),
            kind: read_code(&self.kind)?,
            building: BuildingId(self.building_id),
            turnover: self.turnover_id.map(TurnoverId),
            number: self.number,
            as_of: self.as_of,
            media_type: self.media_type,
            file_name: self.file_name,
            sha256: self.sha256,
            issued_at: self.issued_at,
            issued_by: self.issued_by.map(PersonId),
        })
    }
}

macro_rules! columns {
    () => {
        (
            documents::id,
            documents::kind,
            documents::building_id,
            documents::turnover_id,
            documents::number,
            documents::as_of,
            documents::media_type,
            documents::file_name,
            documents::sha256,
            documents::issued_at,
            documents::issued_by,
        )
    };
}

/// The SHA-256 of bytes, in hexadecimal.
#[must_use]
pub fn sha256_of(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    Sha256::digest(bytes)
        .iter()
        .fold(String::with_capacity(64), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
}

/// The next number of a kind in a building: 1 for the first.
///
/// # Errors
/// When the database does not answer.
pub fn next_number(tx: &mut Tx<'_>, building: BuildingId, kind: DocumentKind) -> Result<i64> {
    let last: Option<i64> = documents::table
        .filter(documents::building_id.eq(building.0))
        .filter(documents::kind.eq(kind.code()))
        .select(max(documents::number))
        .first(&mut **tx)?;
    Ok(last.unwrap_or(0) + 1)
}

/// Keeps a paper with the SHA-256 of its bytes.
///
/// # Errors
/// When its number is taken, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, new: &NewDocument<'_>) -> Result<Document> {
    let sha256 = sha256_of(new.bytes);
    let id: i64 = diesel::insert_into(documents::table)
        .values((
            documents::kind.eq(new.kind.code()),
            documents::building_id.eq(new.building.0),
            documents::turnover_id.eq(new.turnover.map(|turnover| turnover.0)),
            documents::number.eq(new.number),
            documents::as_of.eq(new.as_of),
            documents::media_type.eq(new.media_type),
            documents::file_name.eq(new.file_name),
            documents::bytes.eq(new.bytes),
            documents::sha256.eq(&sha256),
            documents::issued_at.eq(new.issued_at),
            documents::issued_by.eq(new.issued_by.map(|person| person.0)),
        ))
        .returning(documents::id)
        .get_result(&mut **tx)?;
    let row: Row = documents::table.find(id).select(columns!()).first(&mut **tx)?;
    row.read()
}

/// One paper within a scope, without its bytes.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn find(conn: &mut AnyConnection, scope: &Scope, id: DocumentId) -> Result<Document> {
    let row: Option<Row> = documents::table
        .find(id.0)
        .select(columns!())
        .first(conn)
        .optional()?;
    let found = row.ok_or_else(missing)?.read()?;
    if scope.sees(found.building) {
        Ok(found)
    } else {
        Err(missing())
    }
}

/// The record of a turnover, when it was closed. Callers give one that the asker may see.
///
/// # Errors
/// When the database does not answer.
pub fn of_turnover(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Option<Document>> {
    let row: Option<Row> = documents::table
        .filter(documents::turnover_id.eq(turnover.0))
        .order(documents::id.desc())
        .select(columns!())
        .first(conn)
        .optional()?;
    row.map(Row::read).transpose()
}

/// The papers of a kind that were issued for a building, the latest first. Callers give one that the asker may see.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(
    conn: &mut AnyConnection,
    building: BuildingId,
    kind: DocumentKind,
    limit: i64,
) -> Result<Vec<Document>> {
    let rows: Vec<Row> = documents::table
        .filter(documents::building_id.eq(building.0))
        .filter(documents::kind.eq(kind.code()))
        .order(documents::number.desc())
        .limit(limit)
        .select(columns!())
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// The bytes of a paper, exactly as they were issued.
///
/// # Errors
/// When they no longer match their sum, which somebody must have caused outside of this program, or the database does not answer.
pub fn bytes(conn: &mut AnyConnection, document: &Document) -> Result<Vec<u8>> {
    let bytes = stored(conn, document.id)?;
    if sha256_of(&bytes) == document.sha256 {
        return Ok(bytes);
    }
    Err(altered(&document.file_name, &document.sha256))
}

/// The bytes of a paper as they are stored now, whether they match their sum or not.
///
/// # Errors
/// When the database does not answer.
pub fn stored(conn: &mut AnyConnection, document: DocumentId) -> Result<Vec<u8>> {
    let bytes = documents::table
        .find(document.0)
        .select(documents::bytes)
        .first(conn)?;
    Ok(bytes)
}

/// Why bytes that no longer match their sum are not given out.
pub(super) fn altered(file_name: &str, sha256: &str) -> Error {
    Error::Conflict(format!(
        "The stored bytes of {file_name} no longer match their SHA-256 {sha256}: somebody altered the database. Take the paper from a backup."
    ))
}

fn missing() -> Error {
    Error::not_found("such document")
}
