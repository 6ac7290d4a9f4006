//! The condition of a building as a file, a row a fixture.

use actix_web::web::Bytes;
use actix_web::{HttpRequest, web};
use futures_util::stream;

use super::asked_day;
use crate::actions::condition::{read, write};
use crate::error::Error;
use crate::exchange::csv::{self, Audience, Table};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows written at once.
const CHUNK: usize = 500;

/// Sends the file.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let standing = context
        .read(move |conn, actor| read(conn, &actor.scope, now, &code, day))
        .await?;
    let name = format!(
        "condition-{}-{}.csv",
        standing.building.facts.code, standing.as_of
    );
    let names = write::begin(Vec::new(), Audience::Spreadsheet)?.finish()?;
    let ends = (0..standing.lines.len().div_ceil(CHUNK)).map(|chunk| (chunk * CHUNK, (chunk + 1) * CHUNK));
    let rows = ends.map(move |(from, to)| {
        let mut table = Table::go_on(Vec::new());
        let to = to.min(standing.lines.len());
        let lines = standing.lines.get(from..to).unwrap_or_default();
        write::rows(&mut table, &standing, lines)?;
        table.finish().map(Bytes::from)
    });
    let pieces = std::iter::once(Ok(Bytes::from(names))).chain(rows);
    Ok(respond::streamed(&name, csv::MEDIA_TYPE, stream::iter(pieces)))
}
