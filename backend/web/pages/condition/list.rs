//! The buildings that a person answers for, each with its bar of conditions on a day.

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::{asked_day, bar, counts};
use crate::actions::condition::{self, Standing};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::language;
use crate::store::{AnyConnection, buildings};
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
    as_of: String,
    past: bool,
    ahead: bool,
    /// What the addresses of a building and the file end with; empty for today.
    at: String,
    rows: Vec<Row>,
    next: Option<String>,
}

struct Row {
    code: String,
    name: String,
    fixtures: String,
    bar: String,
}

/// Lists the buildings on the day that is asked for; those that joined later are left out.
///
/// # Errors
/// When the day is none, lies too far ahead, or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let after = asked.text("after").to_owned();
    let (now, today) = (context.now, context.today());
    let found = context
        .read(move |conn, actor| read(conn, actor, now, day, &after))
        .await?;
    let at = day.map_or_else(String::new, |day| format!("?as_of={day}"));
    let rows = found
        .standings
        .into_iter()
        .map(|standing| Row {
            bar: bar(&standing.building.facts.name, &counts(&standing.lines)),
            fixtures: language::count(standing.lines.len(), "fixture", "fixtures"),
            code: standing.building.facts.code,
            name: standing.building.facts.name,
        })
        .collect();
    let when = day.map_or_else(|| "today".to_owned(), |day| language::day(day, today));
    let later = match found.later {
        0 => String::new(),
        later => format!("; {later} joined later"),
    };
    respond::page(&List {
        chrome: Chrome::new(&context, &request, "Condition"),
        said: format!(
            "{}, {when}{later}",
            language::count(found.all, "building", "buildings")
        ),
        as_of: day.unwrap_or(today).to_string(),
        past: day.is_some_and(|day| day < today),
        ahead: day.is_some_and(|day| day > today),
        next: found.next.map(|code| match day {
            None => format!("/condition?after={code}"),
            Some(day) => format!("/condition?as_of={day}&after={code}"),
        }),
        at,
        rows,
    })
}

struct Found {
    /// How many buildings there were on the day, and how many joined later.
    all: usize,
    later: usize,
    standings: Vec<Standing>,
    /// The last one of this page, when more follow.
    next: Option<String>,
}

fn read(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    day: Option<NaiveDate>,
    after: &str,
) -> Result<Found> {
    let mut seen = buildings::list(conn, &actor.scope)?;
    let registered = seen.len();
    seen.retain(|building| day.is_none_or(|day| building.facts.had_joined(day)));
    let mut standings: Vec<Standing> = Vec::new();
    let mut rest = seen
        .iter()
        .filter(|building| building.facts.code.as_str() > after);
    for building in rest.by_ref().take(AT_A_TIME) {
        let code = &building.facts.code;
        standings.push(condition::read(conn, &actor.scope, now, code, day)?);
    }
    let last = standings
        .last()
        .map(|standing| standing.building.facts.code.clone());
    Ok(Found {
        all: seen.len(),
        later: registered - seen.len(),
        next: rest.next().and(last),
        standings,
    })
}
