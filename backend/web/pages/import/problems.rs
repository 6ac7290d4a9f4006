//! What must be mended as a CSV, to work through beside the file.

use actix_web::web;

use crate::actions::stage_import;
use crate::exchange::csv::{self, Audience, problem};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

/// Answers with all problems.
///
/// # Errors
/// When this session sent no such files.
pub async fn show(context: Context, upload: web::Path<String>) -> PageResult {
    let (session, upload) = (context.session.id, upload.into_inner());
    let (_, report) = context
        .act(move |db, actor, now| stage_import::look(db, actor, now, session, &upload))
        .await?;
    let mut bytes = Vec::new();
    problem::write(&report.problems, &mut bytes, Audience::Spreadsheet)?;
    Ok(respond::file("to-mend.csv", csv::MEDIA_TYPE, bytes))
}
