//! Turnovers as lines: open ones by move-in with what keeps each back, then those that are over.

use actix_web::HttpRequest;
use askama::Template;

use super::said;
use crate::clock::Now;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{BuildingId, TurnoverId, UnitId};
use crate::domain::turnover::Stage;
use crate::error::Result;
use crate::language::Language;
use crate::picture::turnover_calendar::{Calendar, turnover_calendar, turnover_line};
use crate::store::document_forms::{self, Form};
use crate::store::documents;
use crate::store::lists::arrivals;
use crate::store::lists::turnovers::{self as lists, Line, Surveyor, Which};
use crate::store::lists::unit_phones;
use crate::store::{AnyConnection, buildings};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::arrivals::to_note as arrivals_words;
use crate::web::respond;

/// Open turnovers on a page; each is surveyed.
const OPEN_ROWS: usize = 25;
/// Turnovers that are over, on a page of their own and beneath the open ones.
const OVER_ROWS: usize = 50;
const OVER_BENEATH: usize = 10;

#[derive(Template)]
#[template(path = "pages/turnovers/list.html")]
struct List {
    chrome: Chrome,
    building: String,
    buildings: Vec<Choice>,
    show: String,
    shows: Vec<Choice>,
    is_over: bool,
    calendar: String,
    open: Vec<OpenRow>,
    over: Vec<OverRow>,
    arrived: Option<String>,
    is_manager: bool,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

struct OpenRow {
    id: i64,
    building: String,
    unit: String,
    out: String,
    back: String,
    line: String,
    on_calendar: String,
    kept_back: Vec<said::Short>,
    phones: Vec<said::PhoneSaid>,
}

struct OverRow {
    id: i64,
    building: String,
    unit: String,
    back: String,
    ended: String,
    signed: String,
    number: Option<i64>,
    has_pdf: bool,
}

/// What the address asks for.
#[derive(Debug, Clone)]
struct Asked {
    building: String,
    which: Which,
    after: Option<TurnoverId>,
}

struct Loaded {
    buildings: Vec<Choice>,
    calendar: String,
    open: Vec<OpenRow>,
    over: Vec<OverRow>,
    next: Option<TurnoverId>,
    arrived: usize,
}

/// Lists turnovers.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let asked = Asked {
        building: fields.text("building").to_owned(),
        which: if fields.text("show") == "over" {
            Which::Over
        } else {
            Which::Open
        },
        after: fields.text("after").parse().ok().map(TurnoverId),
    };
    let (now, language) = (context.now, context.language());
    let (asked, loaded) = context
        .read(move |conn, actor| {
            let loaded = load(conn, actor, now, language, &asked)?;
            Ok((asked, loaded))
        })
        .await?;
    let is_over = asked.which == Which::Over;
    let rows = if is_over {
        loaded.over.len()
    } else {
        loaded.open.len()
    };
    let address = |after: Option<TurnoverId>| {
        let mut query = url::form_urlencoded::Serializer::new(String::new());
        query.append_pair("building", &asked.building);
        query.append_pair("show", fields.text("show"));
        if let Some(after) = after {
            query.append_pair("after", &after.to_string());
        }
        format!("/turnovers?{}", query.finish())
    };
    respond::page(&List {
        chrome: Chrome::new(&context, &request, &context.say("turnovers").to_string()).spoken(),
        building: asked.building.clone(),
        buildings: loaded.buildings,
        show: fields.text("show").to_owned(),
        shows: vec![Choice::new("over", context.say("turnovers-over"))],
        is_over,
        calendar: loaded.calendar,
        open: loaded.open,
        over: loaded.over,
        arrived: arrivals_words(language, loaded.arrived),
        is_manager: context.actor().role == Role::Manager,
        shown: language.count("turnovers-on-page", rows),
        first: asked.after.map(|_| address(None)),
        next: loaded.next.map(|after| address(Some(after))),
    })
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    asked: &Asked,
) -> Result<Loaded> {
    let building = match asked.building.as_str() {
        "" => None,
        code => Some(buildings::by_code(conn, &actor.scope, code)?.id),
    };
    let wanted = match asked.which {
        Which::Open => OPEN_ROWS,
        Which::Over => OVER_ROWS,
    };
    let (lines, next) = page(conn, actor, asked.which, building, asked.after, wanted)?;
    let ((calendar, open), over) = match asked.which {
        Which::Over => (
            (String::new(), Vec::new()),
            over_rows(conn, now, language, lines)?,
        ),
        Which::Open => {
            let beneath = if asked.after.is_none() {
                page(conn, actor, Which::Over, building, None, OVER_BENEATH)?.0
            } else {
                Vec::new()
            };
            (
                open_rows(conn, now, language, lines)?,
                over_rows(conn, now, language, beneath)?,
            )
        }
    };
    let arrived = if actor.role == Role::Manager {
        arrivals::unseen(conn, &actor.scope, None)?
    } else {
        0
    };
    let choices = buildings::list(conn, &actor.scope)?.into_iter();
    Ok(Loaded {
        buildings: choices
            .map(|one| Choice::new(one.facts.code.as_str(), one.facts.name.as_str()))
            .collect(),
        calendar,
        open,
        over,
        next,
        arrived,
    })
}

/// A page of lines, and after which the next one goes on.
fn page(
    conn: &mut AnyConnection,
    actor: &Actor,
    which: Which,
    building: Option<BuildingId>,
    after: Option<TurnoverId>,
    rows: usize,
) -> Result<(Vec<Line>, Option<TurnoverId>)> {
    let limit = i64::try_from(rows + 1).unwrap_or(i64::MAX);
    let mut lines = lists::page(conn, &actor.scope, which, building, after, limit)?;
    let more = lines.len() > rows;
    lines.truncate(rows);
    let next = lines.last().map(|line| line.turnover.id).filter(|_| more);
    Ok((lines, next))
}

/// The head of the calendar and its rows. Phones are read once for the page.
fn open_rows(
    conn: &mut AnyConnection,
    now: Now,
    language: Language,
    lines: Vec<Line>,
) -> Result<(String, Vec<OpenRow>)> {
    let surveyor = Surveyor::new(conn, now)?;
    let units: Vec<UnitId> = lines.iter().map(|line| line.turnover.unit).collect();
    let phones = unit_phones::of_units(conn, &units)?;
    let today = lines.iter().map(|line| now.date_in(line.zone)).min();
    let spans = lines.iter().map(|line| {
        let facts = &line.turnover.facts;
        (facts.move_out_on, facts.move_in_on)
    });
    let calendar = today.map(|today| Calendar::around(today, spans));
    let mut rows = Vec::with_capacity(lines.len());
    for line in lines {
        let survey = surveyor.of(conn, line.turnover)?;
        let facts = &survey.turnover.facts;
        let of_unit = phones.get(&survey.turnover.unit).map_or(&[][..], Vec::as_slice);
        rows.push(OpenRow {
            id: survey.turnover.id.0,
            building: line.building_name,
            unit: line.unit_label,
            out: language.day(facts.move_out_on, survey.today),
            back: said::day_and_distance(language, facts.move_in_on, survey.today),
            line: said::line(language, &survey),
            on_calendar: calendar.as_ref().map_or_else(String::new, |calendar| {
                turnover_line(calendar, &said::calendar_line(language, &survey))
            }),
            kept_back: said::kept_back(language, &survey),
            phones: said::phones(language, &survey, of_unit, now),
        });
    }
    Ok((
        calendar
            .as_ref()
            .map_or_else(String::new, |calendar| turnover_calendar(calendar, language)),
        rows,
    ))
}

fn over_rows(
    conn: &mut AnyConnection,
    now: Now,
    language: Language,
    lines: Vec<Line>,
) -> Result<Vec<OverRow>> {
    let mut rows = Vec::with_capacity(lines.len());
    for line in lines {
        let today = now.date_in(line.zone);
        let one = line.turnover;
        let paper = documents::of_turnover(conn, one.id)?;
        let ended = one
            .closed_at
            .map(|at| at.and_utc().with_timezone(&line.zone).date_naive());
        rows.push(OverRow {
            id: one.id.0,
            building: line.building_name,
            unit: line.unit_label,
            back: language.day(one.facts.move_in_on, today),
            ended: language
                .say(if one.stage == Stage::MovedIn {
                    "turnover-closed-on"
                } else {
                    "turnover-cancelled-on"
                })
                .with(
                    "day",
                    ended.map(|day| language.day(day, today)).unwrap_or_default(),
                )
                .into(),
            signed: one.signed_name,
            number: paper.as_ref().map(|paper| paper.number),
            has_pdf: match &paper {
                Some(paper) => document_forms::of_document(conn, paper.id)?
                    .iter()
                    .any(|kept| kept.form == Form::Pdf),
                None => false,
            },
        });
    }
    Ok(rows)
}
