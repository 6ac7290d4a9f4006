//! The condition of a building as a file, a row a fixture.

use actix_web::http::header;
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse, web};
use futures_util::stream;

use super::asked_day;
use crate::actions::condition::{read, write};
use crate::error::Error;
use crate::exchange::csv::Audience;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;

/// Bytes sent at once.
const CHUNK: usize = 64 * 1024;

/// Sends the file.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let (name, bytes) = context
        .read(move |conn, actor| {
            let standing = read(conn, &actor.scope, now, &code, day)?;
            let mut bytes = Vec::new();
            write::write(&standing, &mut bytes, Audience::Spreadsheet)?;
            Ok((
                format!(
                    "condition-{}-{}.csv",
                    standing.building.facts.code, standing.as_of
                ),
                bytes,
            ))
        })
        .await?;
    let bytes = Bytes::from(bytes);
    let pieces = (0..bytes.len())
        .step_by(CHUNK)
        .map(move |from| Ok::<_, std::io::Error>(bytes.slice(from..bytes.len().min(from + CHUNK))));
    Ok(HttpResponse::Ok()
        .content_type("text/csv; charset=utf-8")
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ))
        .streaming(stream::iter(pieces)))
}
