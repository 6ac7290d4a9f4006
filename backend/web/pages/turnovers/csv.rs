//! Turnovers as a file: those of the building that the address names, or of all that the person sees, open and over. Written to a spool
//! first, so that a download is never cut short.

use std::io::{BufWriter, Seek as _};

use actix_web::HttpRequest;

use crate::actions::export::{self, Which};
use crate::error::{Error, Result};
use crate::exchange::csv::{self, Audience, turnovers};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Sends the file.
///
/// # Errors
/// When there is no such building or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let which = match fields.text("building") {
        "" => Which::All,
        code => Which::Building(code.to_owned()),
    };
    let file = context
        .read(move |conn, actor| {
            let mut out = BufWriter::new(tempfile::tempfile()?);
            export::turnovers(conn, &actor.scope, &which, &mut out, Audience::Spreadsheet)?;
            let mut file = out
                .into_inner()
                .map_err(|cause| Error::from(cause.into_error()))?;
            file.rewind()?;
            Result::Ok(file)
        })
        .await?;
    Ok(respond::spooled(turnovers::FILE, csv::MEDIA_TYPE, file))
}
