//! Files that a form sends, with the session's token, within a limit. Knows nothing of what is in them.

use actix_multipart::{Field, Multipart};
use futures_util::TryStreamExt as _;

use super::context::Context;
use super::form::carries_token;
use crate::error::{Error, Result};

/// Longest field that is no file, bytes.
const TEXT_LIMIT: usize = 1_000;

/// Longest name of a file that is kept, characters.
const NAME_LIMIT: usize = 80;

/// A file as it was sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sent {
    /// Its name, without any folder.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Reads the files of a form; all together may have `limit` bytes. What comes beyond is read and dropped up to eight times as much, so
/// that the browser gets an answer and not a broken connection.
///
/// # Errors
/// When the form is from an earlier sign-in (forbidden), the files are too large (field `files`), or the form can't be read.
pub async fn read(mut form: Multipart, context: &Context, limit: usize) -> Result<Vec<Sent>> {
    let mut files = Vec::new();
    let (mut token, mut room) = (String::new(), limit);
    let mut seen = 0_usize;
    while let Some(mut field) = form.try_next().await.map_err(unreadable)? {
        let name = file_name(&field);
        let is_token = field.name() == Some("csrf");
        let mut bytes = Vec::new();
        while let Some(chunk) = field.try_next().await.map_err(unreadable)? {
            seen += chunk.len();
            let fits = if is_token {
                bytes.len() + chunk.len() <= TEXT_LIMIT
            } else {
                chunk.len() <= room
            };
            if fits && (is_token || name.is_some()) {
                room -= if is_token { 0 } else { chunk.len() };
                bytes.extend_from_slice(&chunk);
            } else if !is_token {
                room = 0;
            }
            if seen / 8 > limit {
                return Err(too_large(seen, limit));
            }
        }
        if is_token {
            token = String::from_utf8_lossy(&bytes).into_owned();
        } else if let Some(name) = name {
            files.push(Sent { name, bytes });
        }
    }
    if !carries_token(Some(&context.session), token.trim()) {
        return Err(Error::Forbidden(
            "This form is from an earlier sign-in. Go back, load the page again and send it once more."
                .to_owned(),
        ));
    }
    if seen > limit {
        return Err(too_large(seen, limit));
    }
    Ok(files)
}

/// The name of a file that was chosen; a field without one is no file, or none was chosen.
fn file_name(field: &Field) -> Option<String> {
    let sent = field.content_disposition()?.get_filename()?;
    let name: String = sent
        .rsplit(['/', '\\'])
        .next()
        .unwrap_or_default()
        .chars()
        .filter(|c| !c.is_control())
        .take(NAME_LIMIT)
        .collect();
    (!name.trim().is_empty()).then_some(name)
}

fn unreadable(cause: actix_multipart::MultipartError) -> Error {
    Error::refused(format!("The form could not be read: {cause}. Send it again."))
}

fn too_large(seen: usize, limit: usize) -> Error {
    let mega = |bytes: usize| bytes.div_ceil(1 << 20);
    Error::field(
        "files",
        format!(
            "The files are over {} MB together; at most {} MB are taken here. Import larger fleets where the server runs, with: anglestop import FILE.",
            mega(seen) - 1,
            mega(limit)
        ),
    )
}
