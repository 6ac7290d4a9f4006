//! Useful lives and prices by kind, each with its source; the manager puts the office's own in their place. Bands of the index and the
//! budget year likewise.

use actix_web::HttpRequest;
use askama::Template;

use super::score::bands;
use crate::actions::condition::office::{self, Figures, Typed, TypedBands};
use crate::actions::condition::own_lives::{OwnLife, own_lives};
use crate::domain::code::Coded as _;
use crate::domain::condition::Condition;
use crate::domain::register::person::Role;
use crate::domain::result::money;
use crate::domain::trade::Severity;
use crate::error::FieldError;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/condition/lives.html")]
struct Page {
    chrome: Chrome,
    may_set: bool,
    rows: Vec<Row>,
    sources: Vec<String>,
    own: Vec<OwnRow>,
    ageing: Vec<(&'static str, String, String)>,
    remedies: Vec<(&'static str, String, String)>,
    bands: String,
    month: u32,
    choices: Vec<Choice>,
    item: String,
    years: String,
    cost: String,
    good: String,
    fair: String,
    poor: String,
    first_month: String,
    errors: Vec<FieldError>,
}

/// Figures of a kind; a source is its number in the list beneath.
struct Row {
    kind: &'static str,
    years: String,
    life_source: usize,
    shape: String,
    shape_source: usize,
    cost: String,
    extra: String,
    cost_source: usize,
}

struct OwnRow {
    kind: &'static str,
    replaced: u32,
    watched: String,
    bounds: String,
    fitted: String,
}

/// Shows what holds.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    render(&context, &request, &Fields::default(), Vec::new()).await
}

/// Changes a life and a price.
///
/// # Errors
/// For anybody but a manager.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let typed = Typed {
        built_in: fields.has("built_in"),
        item: fields.text("item").to_owned(),
        years: fields.text("years").to_owned(),
        cost: fields.text("cost").to_owned(),
    };
    let done = context
        .act(move |db, actor, now| office::change(db, actor, now, &typed))
        .await;
    match done {
        Ok(item) => Ok(respond::redirect_saying(
            "/condition/lives",
            &format!("{}: life and price set.", item.name()),
        )),
        Err(error) => render(&context, &request, &fields, to_mend(error)?).await,
    }
}

/// Changes the bands and the budget year.
///
/// # Errors
/// For anybody but a manager.
pub async fn submit_bands(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let typed = TypedBands {
        good: fields.text("good").to_owned(),
        fair: fields.text("fair").to_owned(),
        poor: fields.text("poor").to_owned(),
        month: fields.text("month").to_owned(),
    };
    let done = context
        .act(move |db, actor, now| office::change_bands(db, actor, now, &typed))
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying(
            "/condition/lives",
            "Bands and budget year set.",
        )),
        Err(error) => render(&context, &request, &fields, to_mend(error)?).await,
    }
}

async fn render(
    context: &Context,
    request: &HttpRequest,
    typed: &Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let today = context.today();
    let (figures, own) = context
        .read(move |conn, actor| Ok((office::figures(conn)?, own_lives(conn, &actor.scope, today)?)))
        .await?;
    let is_again = !errors.is_empty();
    let text = |name: &str| typed.text(name).to_owned();
    let (rows, sources) = rows(&figures);
    let page = Page {
        chrome: Chrome::new(context, request, "Lives and prices"),
        may_set: context.actor().role == Role::Manager,
        rows,
        sources,
        own: own.iter().map(own_row).collect(),
        ageing: ageing(&figures),
        remedies: remedies(&figures),
        bands: bands(&figures.bands),
        month: figures.budget_month,
        choices: figures
            .lives
            .of
            .keys()
            .map(|item| Choice::new(item.code(), item.name()))
            .collect(),
        item: text("item"),
        years: text("years"),
        cost: text("cost"),
        good: text("good"),
        fair: text("fair"),
        poor: text("poor"),
        first_month: text("month"),
        errors,
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

/// The kinds, and the sources they name, each once in the order they are first named.
fn rows(figures: &Figures) -> (Vec<Row>, Vec<String>) {
    let mut sources: Vec<String> = Vec::new();
    let mut number = |phrase: String| match sources.iter().position(|one| *one == phrase) {
        Some(place) => place + 1,
        None => {
            sources.push(phrase);
            sources.len()
        }
    };
    let rows = figures.lives.of.values().map(|life| Row {
        kind: life.item.name(),
        years: format!("{} years", life.mean_years),
        life_source: number(life.life_source.phrase()),
        shape: life.shape.to_string(),
        shape_source: number(life.shape_source.phrase()),
        cost: money::text(life.replacement_minor),
        extra: money::text(life.failure_extra_minor),
        cost_source: number(life.cost_source.phrase()),
    });
    let rows = rows.collect();
    (rows, sources)
}

fn own_row(own: &OwnLife) -> OwnRow {
    let (lower, upper) = (own.bounds.lower, own.bounds.upper);
    OwnRow {
        kind: own.item.name(),
        replaced: own.replaced,
        watched: format!("{:.0} years", own.watched_years),
        bounds: upper.map_or_else(
            || format!("{lower:.0} years or more"),
            |upper| format!("{lower:.0} to {upper:.0} years"),
        ),
        fitted: own.fitted.map_or_else(
            || "too few replaced".to_owned(),
            |life| format!("mean {:.1} years, shape {:.1}", life.mean(), life.beta()),
        ),
    }
}

fn ageing(figures: &Figures) -> Vec<(&'static str, String, String)> {
    let of = |word: &Condition| {
        let (factor, source) = figures.lives.ageing.get(word)?;
        Some((word.name(), factor.to_string(), source.phrase()))
    };
    Condition::ALL.iter().filter_map(of).collect()
}

fn remedies(figures: &Figures) -> Vec<(&'static str, String, String)> {
    let of = |severity: &Severity| {
        let (minor, source) = figures.lives.remedy.get(severity)?;
        Some((severity.name(), money::text(*minor), source.phrase()))
    };
    Severity::ALL.iter().filter_map(of).collect()
}
