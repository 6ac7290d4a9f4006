//! The buildings that a person answers for, each with its bar of conditions today.

use actix_web::HttpRequest;
use askama::Template;

use super::{bar, counts};
use crate::actions::condition;
use crate::language;
use crate::store::buildings;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Buildings on one page.
const AT_A_TIME: usize = 20;

#[derive(Template)]
#[template(path = "pages/condition/list.html")]
struct List {
    chrome: Chrome,
    said: String,
    rows: Vec<Row>,
    next: Option<String>,
}

struct Row {
    code: String,
    name: String,
    fixtures: String,
    bar: String,
}

/// Lists the buildings.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let after = asked.text("after").to_owned();
    let now = context.now;
    let (all, standings, next) = context
        .read(move |conn, actor| {
            let seen = buildings::list(conn, &actor.scope)?;
            let mut standings = Vec::new();
            let mut rest = seen.iter().filter(|building| building.facts.code > after);
            for building in rest.by_ref().take(AT_A_TIME) {
                standings.push(condition::read(
                    conn,
                    &actor.scope,
                    now,
                    &building.facts.code,
                    None,
                )?);
            }
            let last = standings
                .last()
                .map(|standing| standing.building.facts.code.clone());
            Ok((seen.len(), standings, rest.next().and(last)))
        })
        .await?;
    let rows = standings
        .into_iter()
        .map(|standing| Row {
            bar: bar(&standing.building.facts.name, &counts(&standing.lines)),
            fixtures: language::count(standing.lines.len(), "fixture", "fixtures"),
            code: standing.building.facts.code,
            name: standing.building.facts.name,
        })
        .collect();
    respond::page(&List {
        chrome: Chrome::new(&context, &request, "Condition"),
        said: language::count(all, "building", "buildings"),
        rows,
        next: next.map(|code| format!("/condition?after={code}")),
    })
}
