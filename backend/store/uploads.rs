//! Files that were sent to be imported and wait to be confirmed. Only the session that sent them finds them again.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::schema::import_files;
use super::{AnyConnection, Tx};
use crate::error::{Error, Result};

/// Keeps files that were sent together, by name, under a random `upload`.
///
/// # Errors
/// When two have one name, or the database refuses.
pub fn keep<'f>(
    tx: &mut Tx<'_>,
    upload: &str,
    session: i64,
    files: impl IntoIterator<Item = (&'f str, &'f [u8])>,
    at: NaiveDateTime,
) -> Result<()> {
    for (name, bytes) in files {
        diesel::insert_into(import_files::table)
            .values((
                import_files::upload.eq(upload),
                import_files::name.eq(name),
                import_files::session_id.eq(session),
                import_files::bytes.eq(bytes),
                import_files::created_at.eq(at),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// The files that this session sent, names and bytes, by name.
///
/// # Errors
/// When there are none, or the database does not answer.
pub fn find(conn: &mut AnyConnection, upload: &str, session: i64) -> Result<Vec<(String, Vec<u8>)>> {
    let files: Vec<(String, Vec<u8>)> = import_files::table
        .filter(import_files::upload.eq(upload))
        .filter(import_files::session_id.eq(session))
        .order(import_files::name)
        .select((import_files::name, import_files::bytes))
        .load(conn)?;
    if files.is_empty() {
        return Err(Error::not_found("such file any more"));
    }
    Ok(files)
}

/// Forgets files.
///
/// # Errors
/// When the database refuses.
pub fn forget(tx: &mut Tx<'_>, upload: &str) -> Result<()> {
    diesel::delete(import_files::table.filter(import_files::upload.eq(upload))).execute(&mut **tx)?;
    Ok(())
}

/// Forgets files that were sent before an instant (UTC).
///
/// # Errors
/// When the database refuses.
pub fn prune(tx: &mut Tx<'_>, before: NaiveDateTime) -> Result<()> {
    diesel::delete(import_files::table.filter(import_files::created_at.lt(before))).execute(&mut **tx)?;
    Ok(())
}
