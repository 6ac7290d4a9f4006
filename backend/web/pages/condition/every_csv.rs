//! The condition of every building that a person sees as one file, or of one portfolio, written while it is read.

use actix_web::http::header;
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse};
use futures_util::stream;

use super::asked_day;
use crate::actions::condition::every::Every;
use crate::actions::condition::write;
use crate::error::{Error, Result};
use crate::exchange::csv::{Audience, Table};
use crate::store::portfolios;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;

/// Sends the file.
///
/// # Errors
/// When there is no such portfolio in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let code = asked.text("portfolio").to_uppercase();
    let now = context.now;
    let every = context
        .read(move |conn, actor| {
            let portfolio = match code.as_str() {
                "" => None,
                code => {
                    let seen = portfolios::list(conn, &actor.scope)?;
                    let found = seen.iter().find(|portfolio| portfolio.facts.code == code);
                    Some(found.ok_or_else(|| Error::not_found("such portfolio"))?.id)
                }
            };
            Every::begin(conn, &actor.scope, portfolio, now, day)
        })
        .await?;
    let names = write::begin(Vec::new(), Audience::Spreadsheet)?.finish()?;
    let pieces = stream::try_unfold((context, every), piece);
    let begun = stream::once(async move { Ok::<_, Error>(Bytes::from(names)) });
    let body = stream::TryStreamExt::map_err(stream::StreamExt::chain(begun, pieces), |cause| {
        tracing::error!(%cause, "a condition broke off");
        std::io::Error::other(cause.to_string())
    });
    Ok(HttpResponse::Ok()
        .content_type("text/csv; charset=utf-8")
        .insert_header((
            header::CONTENT_DISPOSITION,
            "attachment; filename=\"condition.csv\"",
        ))
        .streaming(body))
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
            for line in &standing.lines {
                write::row(&mut table, standing, line)?;
            }
        }
        Ok(Some((Bytes::from(table.finish()?), every)))
    });
    Ok(read.await?.map(|(bytes, every)| (bytes, (context, every))))
}
