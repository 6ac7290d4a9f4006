//! The visits: planned ones by day with the nearest first, and what was closed lately.

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::work;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Actor;
use crate::domain::register::{PersonId, VisitId};
use crate::domain::visit::VisitStatus;
use crate::error::{Error, Result};
use crate::language::Language;
use crate::store::AnyConnection;
use crate::store::lists::due::Desk;
use crate::store::lists::visits::{self, Cursor, Filter, Line, Wanted};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows on one page.
const ROWS: usize = 50;

/// Closed visits beneath the planned ones.
const LATELY: usize = 10;

#[derive(Template)]
#[template(path = "pages/visits/list.html")]
struct List {
    chrome: Chrome,
    fields: Fields,
    states: Vec<Choice>,
    buildings: Vec<Choice>,
    technicians: Vec<Choice>,
    days: Vec<Day>,
    lately: Vec<Day>,
    is_filtered: bool,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

/// The visits of one day.
struct Day {
    words: String,
    /// Whether it has passed and somebody has still to say how it went.
    is_left_over: bool,
    rows: Vec<Row>,
}

struct Row {
    id: i64,
    building: String,
    unit: i64,
    unit_label: String,
    what: String,
    technician: Option<String>,
    status: String,
    reason: String,
}

/// Lists the visits.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (now, language) = (context.now, context.language());
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, language, fields))
        .await?;
    page.chrome = Chrome::new(&context, &request, &context.say("visits").to_string()).spoken();
    respond::page(&page)
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    fields: Fields,
) -> Result<List> {
    let desk = Desk::load(conn, &actor.scope, now)?;
    let filter = filter(&desk, &fields)?;
    let after = cursor(fields.text("after"))?;
    let mut lines = visits::list(conn, &actor.scope, &filter, after, ROWS + 1)?;
    let more = lines.len() > ROWS;
    lines.truncate(ROWS);
    let lately = if filter.wanted == Wanted::Planned && after.is_none() && !more {
        let closed = Filter {
            wanted: Wanted::Closed,
            ..filter
        };
        visits::list(conn, &actor.scope, &closed, None, LATELY)?
    } else {
        Vec::new()
    };
    let each = desk.places.iter();
    Ok(List {
        chrome: Chrome::anonymous(""),
        states: vec![
            Choice::new("closed", language.say("visits-closed")),
            Choice::new("done", language.word(VisitStatus::Done).to_lowercase()),
            Choice::new("no_access", language.word(VisitStatus::NoAccess).to_lowercase()),
            Choice::new("cancelled", language.word(VisitStatus::Cancelled).to_lowercase()),
        ],
        buildings: each.map(|place| Choice::new(&place.code, &place.name)).collect(),
        technicians: desk
            .people
            .iter()
            .map(|(id, name)| Choice::new(id.to_string(), name))
            .collect(),
        days: days(&lines, now, language),
        lately: days(&lately, now, language),
        is_filtered: ["state", "building", "technician"]
            .iter()
            .any(|name| !fields.text(name).is_empty()),
        shown: language.count("visits-on-page", lines.len()),
        first: after.map(|_| address(&fields, "")),
        next: lines
            .last()
            .filter(|_| more)
            .map(|last| address(&fields, &format!("{}_{}", last.on_date, last.id))),
        fields,
    })
}

fn filter(desk: &Desk, fields: &Fields) -> Result<Filter> {
    let wanted = match fields.text("state") {
        "" | "planned" => Wanted::Planned,
        "closed" => Wanted::Closed,
        code => Wanted::Only(VisitStatus::from_code(code).map_err(Error::refused)?),
    };
    let building = match fields.text("building") {
        "" => None,
        code => {
            let found = desk
                .places
                .iter()
                .find(|place| place.code.eq_ignore_ascii_case(code));
            Some(found.ok_or_else(|| Error::not_found("such building"))?.id)
        }
    };
    let technician = match fields.text("technician") {
        "" => None,
        key => Some(PersonId(key.parse().map_err(|_no_key| {
            Error::refused("The filter “technician” names nobody we know. Choose one of the list.")
        })?)),
    };
    Ok(Filter {
        wanted,
        building,
        unit: None,
        technician,
    })
}

fn cursor(text: &str) -> Result<Option<Cursor>> {
    if text.is_empty() {
        return Ok(None);
    }
    let read = || {
        let (day, id) = text.split_once('_')?;
        Some((day.parse().ok()?, VisitId(id.parse().ok()?)))
    };
    read().map(Some).ok_or_else(|| {
        Error::refused(
            "The address does not say where the page begins. Go back to the first rows of the list.",
        )
    })
}

fn address(fields: &Fields, after: &str) -> String {
    let kept = ["state", "building", "technician"].map(|name| (name, fields.text(name)));
    let query = url::form_urlencoded::Serializer::new(String::new())
        .extend_pairs(
            kept.into_iter()
                .chain([("after", after)])
                .filter(|(_, value)| !value.is_empty()),
        )
        .finish();
    if query.is_empty() {
        "/visits".to_owned()
    } else {
        format!("/visits?{query}")
    }
}

fn days(lines: &[Line], now: Now, language: Language) -> Vec<Day> {
    lines
        .chunk_by(|one, other| one.on_date == other.on_date)
        .map(|lines| {
            let (day, today) = lines.first().map_or((NaiveDate::MIN, NaiveDate::MIN), |line| {
                (line.on_date, now.date_in(line.zone))
            });
            Day {
                words: format!("{}, {}", language.day(day, today), language.distance(day, today)),
                is_left_over: day < today && lines.iter().any(|line| line.status == VisitStatus::Planned),
                rows: lines.iter().map(|line| row(line, language)).collect(),
            }
        })
        .collect()
}

fn row(line: &Line, language: Language) -> Row {
    let checks = usize::try_from(line.checks).unwrap_or(0);
    let repairs = usize::try_from(line.repairs).unwrap_or(0);
    Row {
        id: line.id.0,
        building: line.building_code.clone(),
        unit: line.unit.0,
        unit_label: line.unit_label.clone(),
        what: match (
            work::load_in_words(language, checks, line.minutes, repairs),
            line.recorded,
        ) {
            (what, 0) => what,
            (what, recorded) => {
                let results = usize::try_from(recorded).unwrap_or(0);
                let results = language.count("visit-results", results);
                if checks + repairs == 0 {
                    results
                } else {
                    format!("{what} · {results}")
                }
            }
        },
        technician: line.technician.clone(),
        status: language.word(line.status),
        reason: language.reason(&line.reason),
    }
}
