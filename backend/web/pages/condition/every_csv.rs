//! The condition of every building that a person sees as one file, or of one portfolio, written while it is read.

use actix_web::HttpRequest;
use actix_web::web::Bytes;
use futures_util::stream;

use super::asked_day;
use crate::actions::condition::every::Every;
use crate::actions::condition::write;
use crate::error::{Error, Result};
use crate::exchange::csv::{self, Audience, Table};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Sends the file.
///
/// # Errors
/// When there is no such portfolio in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let code = asked.text("portfolio").to_owned();
    let now = context.now;
    let every = context
        .read(move |conn, actor| {
            let portfolio = Some(code.as_str()).filter(|code| !code.is_empty());
            Every::begin(conn, &actor.scope, portfolio, now, day)
        })
        .await?;
    let names = write::begin(Vec::new(), Audience::Spreadsheet)?.finish()?;
    let pieces = stream::try_unfold((context, every), piece);
    let begun = stream::once(async move { Ok::<_, Error>(Bytes::from(names)) });
    let body = stream::StreamExt::chain(begun, pieces);
    Ok(respond::streamed("condition.csv", csv::MEDIA_TYPE, body))
}

/// The rows of the next buildings; nothing when there are none left.
async fn piece((context, mut every): (Context, Every)) -> Result<Option<(Bytes, (Context, Every))>> {
    let reader = context.clone();
    let read = reader.read(move |conn, _| {
        let Some(standings) = every.next(conn)? else {
            return Ok(None);
        };
        let mut table = Table::go_on(Vec::new());
        for standing in &standings {
            write::rows(&mut table, standing, &standing.lines)?;
        }
        Ok(Some((Bytes::from(table.finish()?), every)))
    });
    Ok(read.await?.map(|(bytes, every)| (bytes, (context, every))))
}
