//! Photos of what answers saw: announced, received piece by piece, kept as written anew. Knows no picture, only bytes.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use diesel::sql_types::BigInt;
use uuid::Uuid;

use super::schema::{photo_files, photo_pieces, photos};
use super::{AnyConnection, Tx};
use crate::domain::register::{BuildingId, PersonId, TurnoverId, UnitId};
use crate::error::{Error, Result};

/// A photo, without its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Key; zero before it is kept.
    pub id: i64,
    /// Made by the phone.
    pub client_id: Uuid,
    /// The client id of the answer that it shows.
    pub of: Uuid,
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// Of which turnover.
    pub turnover: Option<TurnoverId>,
    /// Who took it.
    pub person: PersonId,
    /// UTC, corrected by the phone's clock.
    pub taken_at: NaiveDateTime,
    /// UTC.
    pub announced_at: NaiveDateTime,
    /// Of the bytes that the phone sends, hexadecimal.
    pub sent_sha256: String,
    /// How many these are.
    pub sent_bytes: i64,
    /// UTC, the server's time; none while it is to come.
    pub received_at: Option<NaiveDateTime>,
    /// Of the bytes as kept, hexadecimal; empty while it is to come.
    pub sha256: String,
    /// Pixels as kept.
    pub width: Option<i64>,
    /// Pixels as kept.
    pub height: Option<i64>,
    /// Why it could not be taken; empty otherwise.
    pub refused: String,
}

/// A photo as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept<'a> {
    /// JPEG, written anew.
    pub bytes: &'a [u8],
    /// Of these bytes, hexadecimal.
    pub sha256: &'a str,
    /// Pixels.
    pub width: u32,
    /// Pixels.
    pub height: u32,
}

#[derive(Queryable)]
struct Row {
    id: i64,
    client_id: String,
    result_client_id: String,
    building_id: i64,
    unit_id: i64,
    turnover_id: Option<i64>,
    person_id: i64,
    taken_at: NaiveDateTime,
    announced_at: NaiveDateTime,
    sent_sha256: String,
    sent_bytes: i64,
    received_at: Option<NaiveDateTime>,
    sha256: String,
    width: Option<i64>,
    height: Option<i64>,
    refused: String,
}

impl Row {
    fn read(self) -> Result<Photo> {
        Ok(Photo {
            id: self.id,
            client_id: self.client_id.parse().map_err(Error::internal)?,
            of: self.result_client_id.parse().map_err(Error::internal)?,
            building: BuildingId(self.building_id),
            unit: UnitId(self.unit_id),
            turnover: self.turnover_id.map(TurnoverId),
            person: PersonId(self.person_id),
            taken_at: self.taken_at,
            announced_at: self.announced_at,
            sent_sha256: self.sent_sha256,
            sent_bytes: self.sent_bytes,
            received_at: self.received_at,
            sha256: self.sha256,
            width: self.width,
            height: self.height,
            refused: self.refused,
        })
    }
}

/// Keeps that a photo is to come, or was refused at once.
///
/// # Errors
/// When the database refuses.
pub fn announce(tx: &mut Tx<'_>, photo: &Photo) -> Result<()> {
    diesel::insert_into(photos::table)
        .values((
            photos::client_id.eq(photo.client_id.to_string()),
            photos::result_client_id.eq(photo.of.to_string()),
            photos::building_id.eq(photo.building.0),
            photos::unit_id.eq(photo.unit.0),
            photos::turnover_id.eq(photo.turnover.map(|turnover| turnover.0)),
            photos::person_id.eq(photo.person.0),
            photos::taken_at.eq(photo.taken_at),
            photos::announced_at.eq(photo.announced_at),
            photos::sent_sha256.eq(&photo.sent_sha256),
            photos::sent_bytes.eq(photo.sent_bytes),
            photos::received_at.eq(photo.received_at),
            photos::sha256.eq(&photo.sha256),
            photos::width.eq(photo.width),
            photos::height.eq(photo.height),
            photos::refused.eq(&photo.refused),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The photo with this client id.
///
/// # Errors
/// When the database does not answer.
pub fn by_client_id(conn: &mut AnyConnection, id: Uuid) -> Result<Option<Photo>> {
    let row: Option<Row> = photos::table
        .filter(photos::client_id.eq(id.to_string()))
        .first(conn)
        .optional()?;
    row.map(Row::read).transpose()
}

/// The photo with this key.
///
/// # Errors
/// When the database does not answer.
pub fn by_key(conn: &mut AnyConnection, id: i64) -> Result<Option<Photo>> {
    let row: Option<Row> = photos::table.find(id).first(conn).optional()?;
    row.map(Row::read).transpose()
}

/// The photos of an answer, in the order in which they were taken.
///
/// # Errors
/// When the database does not answer.
pub fn of_answer(conn: &mut AnyConnection, answer: Uuid) -> Result<Vec<Photo>> {
    let rows: Vec<Row> = photos::table
        .filter(photos::result_client_id.eq(answer.to_string()))
        .order((photos::taken_at, photos::id))
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// The photos of a turnover, in the order in which they were taken.
///
/// # Errors
/// When the database does not answer.
pub fn of_turnover(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Vec<Photo>> {
    let rows: Vec<Row> = photos::table
        .filter(photos::turnover_id.eq(turnover.0))
        .order((photos::taken_at, photos::id))
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// The bytes of a photo as kept; none while it is to come.
///
/// # Errors
/// When the database does not answer.
pub fn file(conn: &mut AnyConnection, photo: i64) -> Result<Option<Vec<u8>>> {
    let bytes = photo_files::table
        .find(photo)
        .select(photo_files::bytes)
        .first(conn)
        .optional()?;
    Ok(bytes)
}

/// How many bytes of a photo are there. Pieces are kept without a gap.
///
/// # Errors
/// When the database does not answer.
pub fn received(conn: &mut AnyConnection, photo: i64) -> Result<i64> {
    let sum = diesel::dsl::sql::<BigInt>("CAST(COALESCE(SUM(LENGTH(bytes)), 0) AS BIGINT)");
    let bytes = photo_pieces::table
        .filter(photo_pieces::photo_id.eq(photo))
        .select(sum)
        .first(conn)?;
    Ok(bytes)
}

/// Keeps a piece.
///
/// # Errors
/// When the database refuses.
pub fn add_piece(tx: &mut Tx<'_>, photo: i64, from: i64, bytes: &[u8]) -> Result<()> {
    diesel::insert_into(photo_pieces::table)
        .values((
            photo_pieces::photo_id.eq(photo),
            photo_pieces::from_byte.eq(from),
            photo_pieces::bytes.eq(bytes),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The bytes of a photo that are there, in their order.
///
/// # Errors
/// When the database does not answer.
pub fn pieces(conn: &mut AnyConnection, photo: i64) -> Result<Vec<u8>> {
    let pieces: Vec<Vec<u8>> = photo_pieces::table
        .filter(photo_pieces::photo_id.eq(photo))
        .order(photo_pieces::from_byte)
        .select(photo_pieces::bytes)
        .load(conn)?;
    Ok(pieces.concat())
}

/// Forgets the pieces of a photo.
///
/// # Errors
/// When the database refuses.
pub fn drop_pieces(tx: &mut Tx<'_>, photo: i64) -> Result<()> {
    diesel::delete(photo_pieces::table.filter(photo_pieces::photo_id.eq(photo))).execute(&mut **tx)?;
    Ok(())
}

/// Keeps a photo that is complete, in the place of its pieces. One that is kept already stays as it is.
///
/// # Errors
/// When the database refuses.
pub fn keep(tx: &mut Tx<'_>, photo: i64, kept: &Kept<'_>, now: NaiveDateTime) -> Result<()> {
    let to_come = photos::table
        .filter(photos::id.eq(photo))
        .filter(photos::received_at.is_null());
    let changed = diesel::update(to_come)
        .set((
            photos::received_at.eq(Some(now)),
            photos::sha256.eq(kept.sha256),
            photos::width.eq(Some(i64::from(kept.width))),
            photos::height.eq(Some(i64::from(kept.height))),
        ))
        .execute(&mut **tx)?;
    if changed == 1 {
        diesel::insert_into(photo_files::table)
            .values((photo_files::photo_id.eq(photo), photo_files::bytes.eq(kept.bytes)))
            .execute(&mut **tx)?;
    }
    drop_pieces(tx, photo)
}

/// Keeps that a photo can't be taken, and forgets its pieces.
///
/// # Errors
/// When the database refuses.
pub fn refuse(tx: &mut Tx<'_>, photo: i64, sentence: &str) -> Result<()> {
    diesel::update(photos::table.find(photo))
        .set(photos::refused.eq(sentence))
        .execute(&mut **tx)?;
    drop_pieces(tx, photo)
}

/// Photos of which every byte is there and that are not kept yet: their server stopped in between. The oldest first.
///
/// # Errors
/// When the database does not answer.
pub fn left(conn: &mut AnyConnection, limit: i64) -> Result<Vec<Photo>> {
    let with_pieces = photo_pieces::table.select(photo_pieces::photo_id).distinct();
    let rows: Vec<Row> = photos::table
        .filter(photos::id.eq_any(with_pieces))
        .filter(photos::received_at.is_null())
        .filter(photos::refused.eq(""))
        .order(photos::id)
        .limit(limit)
        .load(conn)?;
    let mut left = Vec::new();
    for row in rows {
        if received(conn, row.id)? == row.sent_bytes {
            left.push(row.read()?);
        }
    }
    Ok(left)
}
