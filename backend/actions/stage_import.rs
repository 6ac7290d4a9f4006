//! Keeps files that were sent until they are confirmed, so that what is stored is what was looked at, byte for byte.

use chrono::TimeDelta;

use super::import_fleet::{self, Report};
use super::people::sign_in::random_token;
use super::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::exchange::csv::fleet::source::Given;
use crate::store::{Db, uploads};

/// How long files wait to be confirmed.
pub const WAITS: TimeDelta = TimeDelta::days(1);

/// Keeps files for a session, and answers with the name that they are found by again. Older ones than a day are forgotten.
///
/// # Errors
/// When the person may not import, there is no file, two have one name, or the database refuses.
pub fn stage(db: &Db, actor: &Actor, now: Now, session: i64, files: &[Given]) -> Result<String> {
    rights::manager(actor, "import a fleet")?;
    if files.is_empty() {
        return Err(Error::field("files", "Choose a CSV first."));
    }
    let twice = files
        .iter()
        .enumerate()
        .find(|(at, file)| files[..*at].iter().any(|other| other.name == file.name));
    if let Some((_, file)) = twice {
        let sentence = format!("{} is there twice. Choose each file once.", file.name);
        return Err(Error::field("files", sentence));
    }
    let upload = random_token()?;
    db.write(|tx| {
        uploads::prune(tx, now.0 - WAITS)?;
        let files = files
            .iter()
            .map(|file| (file.name.as_str(), file.bytes.as_slice()));
        uploads::keep(tx, &upload, session, files, now.0)
    })?;
    Ok(upload)
}

fn staged(db: &Db, session: i64, upload: &str) -> Result<Vec<Given>> {
    let files = db.read(|conn| uploads::find(conn, upload, session))?;
    Ok(files
        .into_iter()
        .map(|(name, bytes)| Given { name, bytes })
        .collect())
}

/// Tells what the files would do; stores nothing. Answers with their names too.
///
/// # Errors
/// When the session sent no such files, or the database does not answer.
pub fn look(db: &Db, actor: &Actor, now: Now, session: i64, upload: &str) -> Result<(Vec<String>, Report)> {
    let files = staged(db, session, upload)?;
    let report = import_fleet::preview(db, actor, now, &files, &mut |_| {})?;
    Ok((files.into_iter().map(|file| file.name).collect(), report))
}

/// Stores the very files that were looked at, and forgets them. With problems in the report nothing was stored and they stay.
///
/// # Errors
/// When the session sent no such files, the fleet was changed meanwhile so that they no longer fit, or the database refuses.
pub fn confirm(db: &Db, actor: &Actor, now: Now, session: i64, upload: &str) -> Result<Report> {
    let files = staged(db, session, upload)?;
    let report = import_fleet::import(db, actor, now, &files, &mut |_| {})?;
    if report.is_sound() {
        db.write(|tx| uploads::forget(tx, upload))?;
    }
    Ok(report)
}
