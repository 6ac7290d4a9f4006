//! The fleet as one CSV, as far as the person may see it.

use std::io::{BufWriter, Seek as _};

use crate::actions::export::{self, Which};
use crate::error::Result;
use crate::exchange::csv::{self, Audience};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

/// Answers with the file; it is written in full before the first byte is sent, so that a download is never cut short.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context) -> PageResult {
    let file = context
        .read(|conn, actor| {
            let mut out = BufWriter::new(tempfile::tempfile()?);
            export::fleet(conn, &actor.scope, &Which::All, &mut out, Audience::Spreadsheet)?;
            let mut file = out
                .into_inner()
                .map_err(|cause| crate::error::Error::from(cause.into_error()))?;
            file.rewind()?;
            Result::Ok(file)
        })
        .await?;
    Ok(respond::spooled("fleet.csv", csv::MEDIA_TYPE, file))
}
