//! Receives photos piece by piece, and keeps each that is complete: its sum compared, written anew, one at a time. A piece that is there
//! already changes nothing, so a phone goes on wherever it was cut off.

use std::sync::{Mutex, PoisonError};

use uuid::Uuid;

use super::photo::may_send;
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::error::{Error, Result};
use crate::exchange::photo::{Anew, anew, begins_as};
use crate::store::documents::sha256_of;
use crate::store::photos::{self, Kept, Photo};
use crate::store::{AnyConnection, Db};

/// The most bytes of a piece: 256 KiB.
pub const MOST_OF_PIECE: usize = 256 << 10;

/// Photos are decoded one at a time, each within its own limit of memory.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// How far a photo has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Progress {
    /// Bytes that are there.
    pub received: i64,
    /// Whether it is kept.
    pub is_complete: bool,
    /// Why it could not be taken; empty otherwise.
    pub refused: String,
}

/// What becomes of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// It is there, or the photo is done with.
    Taken(Progress),
    /// Bytes are missing before it, or the photo was sent wrongly and begins anew.
    Gap(Progress, &'static str),
}

fn find(conn: &mut AnyConnection, actor: &Actor, id: Uuid) -> Result<Photo> {
    photos::by_client_id(conn, id)?
        .filter(|photo| may_send(actor, photo))
        .ok_or_else(|| Error::not_found("such photo"))
}

fn progress_of(conn: &mut AnyConnection, photo: &Photo) -> Result<Progress> {
    let is_complete = photo.received_at.is_some();
    let received = if is_complete {
        photo.sent_bytes
    } else {
        photos::received(conn, photo.id)?
    };
    Ok(Progress {
        received,
        is_complete,
        refused: photo.refused.clone(),
    })
}

/// How far a photo has come.
///
/// # Errors
/// When it was not announced, or not by somebody whose business it is.
pub fn progress(conn: &mut AnyConnection, actor: &Actor, id: Uuid) -> Result<Progress> {
    let photo = find(conn, actor, id)?;
    progress_of(conn, &photo)
}

/// Takes a piece that begins at byte `from`; with the last one the photo is kept.
///
/// # Errors
/// When it was not announced, or the piece is too large or goes beyond what was announced.
pub fn receive(db: &Db, actor: &Actor, now: Now, id: Uuid, from: i64, piece: &[u8]) -> Result<Piece> {
    super::staff(actor)?;
    if piece.len() > MOST_OF_PIECE || from < 0 {
        return Err(Error::refused(
            "A piece has at most 256 KiB and begins at a byte of the photo.",
        ));
    }
    let (photo, so_far) = db.write(|tx| {
        let photo = find(tx, actor, id)?;
        let so_far = progress_of(tx, &photo)?;
        if so_far.is_complete || !so_far.refused.is_empty() || from > so_far.received {
            return Ok((photo, so_far));
        }
        let length = i64::try_from(piece.len()).map_err(Error::internal)?;
        if from + length > photo.sent_bytes {
            return Err(Error::refused(format!(
                "The photo was announced with {} bytes, and this piece goes beyond them. Take it once more.",
                photo.sent_bytes
            )));
        }
        let known = usize::try_from(so_far.received - from).map_err(Error::internal)?;
        let new = piece.get(known..).unwrap_or_default();
        if so_far.received == 0 && !new.is_empty() && begins_as(new).is_none() {
            return refuse_at_once(tx, photo);
        }
        if !new.is_empty() {
            photos::add_piece(tx, photo.id, so_far.received, new)?;
        }
        let received = (from + length).max(so_far.received);
        Ok((photo, Progress { received, ..so_far }))
    })?;
    if from > so_far.received && !so_far.is_complete && so_far.refused.is_empty() {
        return Ok(Piece::Gap(
            so_far,
            "Bytes are missing before this piece. Go on from what was received.",
        ));
    }
    if so_far.is_complete || !so_far.refused.is_empty() || so_far.received < photo.sent_bytes {
        return Ok(Piece::Taken(so_far));
    }
    finish(db, now, &photo)
}

/// A file that does not begin as a photo need not be sent to its end.
fn refuse_at_once(tx: &mut crate::store::Tx<'_>, photo: Photo) -> Result<(Photo, Progress)> {
    let refused = "This is no JPEG, PNG or WebP, whatever its name says. Take a photo with the camera.";
    photos::refuse(tx, photo.id, refused)?;
    let progress = Progress {
        received: 0,
        is_complete: false,
        refused: refused.to_owned(),
    };
    Ok((photo, progress))
}

/// Keeps a photo of which every byte is there. The database is not held while it is written anew.
fn finish(db: &Db, now: Now, photo: &Photo) -> Result<Piece> {
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let bytes = db.read(|conn| photos::pieces(conn, photo.id))?;
    if bytes.is_empty() {
        // Somebody else finished it while this waited.
        let progress = db.read(|conn| match photos::by_key(conn, photo.id)? {
            Some(photo) => progress_of(conn, &photo),
            None => Err(Error::not_found("such photo")),
        })?;
        return Ok(Piece::Taken(progress));
    }
    if sha256_of(&bytes) != photo.sent_sha256 {
        db.write(|tx| photos::drop_pieces(tx, photo.id))?;
        let progress = Progress {
            received: 0,
            is_complete: false,
            refused: String::new(),
        };
        return Ok(Piece::Gap(
            progress,
            "What came is not what was announced. Send the photo again from its beginning.",
        ));
    }
    let written = anew(&bytes);
    drop(bytes);
    db.write(|tx| match &written {
        Ok(Anew { bytes, width, height }) => {
            let sha256 = sha256_of(bytes);
            let kept = Kept {
                bytes,
                sha256: &sha256,
                width: *width,
                height: *height,
            };
            photos::keep(tx, photo.id, &kept, now.0)
        }
        Err(sentence) => photos::refuse(tx, photo.id, sentence),
    })?;
    Ok(Piece::Taken(Progress {
        received: photo.sent_bytes,
        is_complete: written.is_ok(),
        refused: written.err().unwrap_or_default(),
    }))
}

/// Keeps photos whose last byte came just before their server stopped.
///
/// # Errors
/// When the database does not answer.
pub fn finish_left(db: &Db, now: Now) -> Result<()> {
    for photo in db.read(|conn| photos::left(conn, 5))? {
        finish(db, now, &photo)?;
    }
    Ok(())
}

/// A photo as it is kept, for whoever sees its building.
///
/// # Errors
/// When there is none, it is not theirs to see, or it is still to come.
pub fn show(conn: &mut AnyConnection, scope: &Scope, id: i64) -> Result<(Photo, Vec<u8>)> {
    let missing = || Error::not_found("such photo");
    let photo = photos::by_key(conn, id)?
        .filter(|photo| scope.sees(photo.building))
        .ok_or_else(missing)?;
    let bytes = photos::file(conn, photo.id)?.ok_or_else(missing)?;
    Ok((photo, bytes))
}
