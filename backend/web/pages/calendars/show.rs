//! When planned work is done in a building: the week, the days on which it is closed, the year ahead. A manager's page.

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::{Days, Months, NaiveDate};

use super::closing::{self, Offers};
use crate::actions::calendars::To;
use crate::domain::code::Coded as _;
use crate::domain::due::{Closing, DayOfWeek, WorkCalendar};
use crate::domain::field::capital;
use crate::domain::register::{Building, ClosingId};
use crate::error::{FieldError, Result};
use crate::language;
use crate::picture::year::{Year, year};
use crate::store::{AnyConnection, buildings, calendars, portfolios, schedules};
use crate::web::choice::{Choice, Tick};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/calendars/show.html")]
struct CalendarPage {
    chrome: Chrome,
    code: String,
    name: String,
    days: Vec<Tick>,
    offers: Offers,
    rows: Vec<Row>,
    year: String,
    /// Whether a schedule that is on moves its due dates by it.
    is_asked: bool,
    receivers: Vec<Choice>,
    sources: Vec<Choice>,
    fields: Fields,
    errors: Vec<FieldError>,
}

struct Row {
    id: i64,
    name: String,
    kind: String,
    when: String,
    lasts: String,
    next: String,
}

/// Shows it.
///
/// # Errors
/// When there is no such building.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let building = context
        .read(move |conn, actor| buildings::by_code(conn, &actor.scope, &code))
        .await?;
    page(&context, &request, building, (blank(), Vec::new())).await
}

/// The fields of a holiday that is not there yet.
fn blank() -> Fields {
    Fields::from_pairs(&[("kind", "public_holiday"), ("repeats", "yearly"), ("to", "all")])
}

/// Shows it with what was typed and what is to be mended.
pub(super) async fn page(
    context: &Context,
    request: &HttpRequest,
    building: Building,
    (fields, errors): (Fields, Vec<FieldError>),
) -> PageResult {
    let now = context.now;
    let title = format!("Calendar of {}", building.facts.name);
    let mut page = context
        .read(move |conn, actor| {
            let today = now.date_in(building.facts.time_zone);
            let mut page = load(conn, &building, today)?;
            let others = buildings::list(conn, &actor.scope)?;
            let others: Vec<Building> = others
                .into_iter()
                .filter(|other| other.id != building.id)
                .collect();
            let owners = portfolios::list(conn, &actor.scope)?;
            page.receivers = receivers(&others, &owners);
            page.sources = others.iter().map(choice).collect();
            Ok(page)
        })
        .await?;
    page.chrome = Chrome::new(context, request, &title);
    page.fields = fields;
    page.errors = errors;
    if page.errors.is_empty() {
        respond::page(&page)
    } else {
        respond::form_again(&page)
    }
}

fn choice(building: &Building) -> Choice {
    let facts = &building.facts;
    Choice::new(&facts.code, format!("{} ({})", facts.name, facts.code))
}

fn receivers(others: &[Building], owners: &[crate::domain::register::Portfolio]) -> Vec<Choice> {
    let all = language::count(others.len(), "other building", "other buildings");
    let mut choices = vec![Choice::new("all", format!("All, {all}"))];
    for owner in owners {
        let of = others
            .iter()
            .filter(|building| building.portfolio == owner.id)
            .count();
        if of > 0 {
            let count = language::count(of, "other building", "other buildings");
            let words = format!("Those of {}, {count}", owner.facts.name);
            choices.push(Choice::new(format!("portfolio:{}", owner.facts.code), words));
        }
    }
    choices.push(Choice::new("these", "The ones named below"));
    choices
}

/// Who is meant by a choice of [`receivers`].
pub(super) fn to(fields: &Fields) -> To {
    match fields.text("to") {
        "all" => To::All,
        other => other.strip_prefix("portfolio:").map_or_else(
            || {
                let codes = fields.text("codes").split([' ', ',', ';']);
                To::These(codes.filter(|code| !code.is_empty()).map(str::to_owned).collect())
            },
            |code| To::Portfolio(code.to_owned()),
        ),
    }
}

fn load(conn: &mut AnyConnection, building: &Building, today: NaiveDate) -> Result<CalendarPage> {
    let calendar = calendars::of_building(conn, building.id)?;
    let mut closings = calendars::closings_of(conn, building.id)?;
    // What comes next stands first, what is over last.
    closings.sort_by_key(|(_, closing)| next(closing, today).unwrap_or(NaiveDate::MAX));
    let book = schedules::book(conn)?;
    let is_asked = book.schedules().any(|schedule| {
        let terms = &schedule.terms;
        let asks = terms.asks() && terms.timing.moving().asks_for_closed_days();
        asks && terms.scope.reaches_building(&building.facts.code)
    });
    let closed = closed_ahead(&calendar, today);
    Ok(CalendarPage {
        chrome: Chrome::anonymous(""),
        code: building.facts.code.clone(),
        name: building.facts.name.clone(),
        days: DayOfWeek::ALL
            .iter()
            .map(|day| Tick {
                value: day.code().to_owned(),
                label: day.name().to_owned(),
                is_ticked: calendar.working_days.days().any(|one| one == *day),
            })
            .collect(),
        offers: closing::offers(),
        rows: closings
            .iter()
            .map(|(id, closing)| row(*id, closing, today))
            .collect(),
        year: year(&Year {
            title: format!("Closed days of the next twelve months: {}", closed.len()),
            from: today,
            days: closed,
        }),
        is_asked,
        receivers: Vec::new(),
        sources: Vec::new(),
        fields: Fields::default(),
        errors: Vec::new(),
    })
}

/// The days of this month and the twelve after it that are public holidays or shut down.
fn closed_ahead(calendar: &WorkCalendar, today: NaiveDate) -> Vec<NaiveDate> {
    let first = chrono::Datelike::with_day(&today, 1).unwrap_or(today);
    let last = first.checked_add_months(Months::new(13)).unwrap_or(first);
    let days = first.iter_days().take_while(|day| *day < last);
    days.filter(|day| {
        calendar
            .closings
            .iter()
            .any(|closing| closing.begun_before(*day).is_some())
    })
    .collect()
}

fn row(id: ClosingId, closing: &Closing, today: NaiveDate) -> Row {
    let next = next(closing, today).map_or_else(
        || "over".to_owned(),
        |day| {
            let last = day
                .checked_add_days(Days::new(u64::from(closing.days) - 1))
                .unwrap_or(day);
            if day == last {
                language::day(day, today)
            } else {
                format!("{} to {}", language::day(day, today), language::day(last, today))
            }
        },
    );
    Row {
        id: id.0,
        name: closing.name.clone(),
        kind: capital(closing.kind.name()),
        when: closing
            .rule
            .as_ref()
            .map_or_else(|| "Once".to_owned(), |rule| capital(&rule.describe())),
        lasts: language::count(usize::from(closing.days), "day", "days"),
        next,
    }
}

/// The day it begins on that today belongs to, else the next one.
fn next(closing: &Closing, today: NaiveDate) -> Option<NaiveDate> {
    closing.begun_before(today).or_else(|| match &closing.rule {
        None => Some(closing.start).filter(|start| *start >= today),
        Some(rule) => rule.next_on_or_after(today),
    })
}
