//! The list: who sent what, when it was done and when it came, why it did not come in as usual, and where it is now.

use std::collections::HashMap;

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDateTime;

use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, TurnoverId};
use crate::error::Result;
use crate::exchange::sent::{self, Names};
use crate::language;
use crate::store::lists::arrivals::{self, Line, Which};
use crate::store::{AnyConnection, checks, spots};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Arrivals on one page.
const ROWS: usize = 50;

#[derive(Template)]
#[template(path = "pages/arrivals/list.html")]
struct List {
    chrome: Chrome,
    show: String,
    shows: Vec<Choice>,
    turnover: Option<i64>,
    rows: Vec<Row>,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

struct Row {
    id: i64,
    who: String,
    building: (String, String),
    unit: (i64, String),
    turnover: Option<i64>,
    fixture: Option<i64>,
    what: String,
    cause: &'static str,
    sentence: String,
    done: String,
    received: String,
    is_seen: bool,
}

struct Known {
    checks: HashMap<String, String>,
    places: HashMap<i64, String>,
}

impl Names for Known {
    fn check(&self, code: &str) -> Option<String> {
        self.checks.get(code).cloned()
    }

    fn place(&self, fixture: i64) -> Option<String> {
        self.places.get(&fixture).cloned()
    }
}

/// Lists what arrived.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let which = if fields.text("show") == "all" {
        Which::All
    } else {
        Which::Unseen
    };
    let turnover: Option<i64> = fields.text("turnover").parse().ok();
    let after: Option<i64> = fields.text("after").parse().ok();
    let now = context.now;
    let (rows, last) = context
        .read(move |conn, actor| load(conn, actor, now, (which, turnover.map(TurnoverId), after)))
        .await?;
    let address = |after: Option<i64>| {
        let mut query = url::form_urlencoded::Serializer::new(String::new());
        query.append_pair("show", fields.text("show"));
        let keys = [("turnover", turnover), ("after", after)];
        for (name, key) in keys.into_iter().filter_map(|(name, key)| Some((name, key?))) {
            query.append_pair(name, &key.to_string());
        }
        format!("/arrivals?{}", query.finish())
    };
    respond::page(&List {
        chrome: Chrome::new(&context, &request, "Arrived late"),
        show: fields.text("show").to_owned(),
        shows: vec![Choice::new("all", "all that arrived")],
        turnover,
        shown: language::count(rows.len(), "arrival on this page", "arrivals on this page"),
        rows,
        first: after.map(|_| address(None)),
        next: last.map(|last| address(Some(last))),
    })
}

/// A page of rows, and after which key the next one goes on.
fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    (which, turnover, after): (Which, Option<TurnoverId>, Option<i64>),
) -> Result<(Vec<Row>, Option<i64>)> {
    let limit = i64::try_from(ROWS + 1).unwrap_or(i64::MAX);
    let mut lines = arrivals::page(conn, &actor.scope, which, turnover, after, limit)?;
    let more = lines.len() > ROWS;
    lines.truncate(ROWS);
    let fixtures: Vec<FixtureId> = lines
        .iter()
        .filter_map(|line| sent::fixture_of(&line.sent).map(FixtureId))
        .collect();
    let places = spots::of_fixtures(conn, &actor.scope, &fixtures)?;
    let known = Known {
        checks: checks::load_all(conn)?
            .into_iter()
            .map(|one| (one.check.code.to_string(), one.check.title.clone()))
            .collect(),
        places: places
            .into_iter()
            .map(|(id, spot)| (id.0, spot.tag_label))
            .collect(),
    };
    let last = lines.last().map(|line| line.id).filter(|_| more);
    Ok((
        lines.into_iter().map(|line| row(line, &known, now)).collect(),
        last,
    ))
}

fn row(line: Line, known: &Known, now: Now) -> Row {
    let when = |at: NaiveDateTime| {
        let local = at.and_utc().with_timezone(&line.zone).naive_local();
        let day = language::day(local.date(), now.date_in(line.zone));
        format!("{day}, {}", local.format("%H:%M"))
    };
    Row {
        id: line.id,
        what: sent::in_words(&line.sent, known),
        cause: cause(&line.cause),
        done: when(line.done_at),
        received: when(line.received_at),
        who: line.person,
        building: (line.building_code, line.building_name),
        unit: (line.unit.0, line.unit_label),
        turnover: line.turnover.map(|turnover| turnover.0),
        fixture: line.result.map(|(_, fixture)| fixture.0),
        sentence: line.sentence,
        is_seen: line.seen_at.is_some(),
    }
}

/// Why it did not come in as usual, by the codes of the table.
fn cause(code: &str) -> &'static str {
    match code {
        "turnover_over" => "the turnover was over",
        "reassigned" => "the unit was given to others",
        "replaced" => "the fixture was replaced",
        _ => "could not be taken",
    }
}
