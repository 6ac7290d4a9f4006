//! A portfolio's score and forecast: its buildings together, and each leading to its own figures.

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::asked_day;
use super::forecast::{KindRow, YearRow, asked_years, bars, kind_row, tenths, year_rows};
use super::score::{Figure, index_words, score_words, within_days};
use crate::actions::condition::together::{self, Line, Part, Rated};
use crate::domain::condition::index::Bands;
use crate::domain::register::person::Actor;
use crate::domain::register::{Building, Portfolio};
use crate::domain::result::money;
use crate::error::{Error, Result};
use crate::language;
use crate::store::{AnyConnection, buildings, portfolios};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/condition/portfolio_score.html")]
struct ScorePage {
    chrome: Chrome,
    choice: Selection,
    figures: Vec<Figure>,
    rows: Vec<ScoreRow>,
    within_days: u32,
    as_of: NaiveDate,
    past: bool,
}

struct ScoreRow {
    code: String,
    name: String,
    score: String,
    verdict: &'static str,
    inspected: String,
    open: usize,
    current: String,
    index: String,
}

#[derive(Template)]
#[template(path = "pages/condition/portfolio_forecast.html")]
struct ForecastPage {
    chrome: Chrome,
    choice: Selection,
    years_ahead: usize,
    picture: String,
    years: Vec<YearRow>,
    kinds: Vec<KindRow>,
    rows: Vec<AheadRow>,
}

struct AheadRow {
    code: String,
    name: String,
    replacements: String,
    cost: String,
    budget: String,
}

/// Which portfolio is looked at, of which.
struct Selection {
    portfolio: String,
    name: String,
    all: Vec<Choice>,
    said: String,
}

/// The portfolio that the address asks for, else the first, with its buildings.
fn chosen(
    conn: &mut AnyConnection,
    actor: &Actor,
    wanted: &str,
) -> Result<(Vec<Portfolio>, Option<Portfolio>, Vec<Building>)> {
    let all = portfolios::list(conn, &actor.scope)?;
    let one = if wanted.is_empty() {
        all.first().cloned()
    } else {
        let found = all.iter().find(|one| one.facts.code == wanted).cloned();
        Some(found.ok_or_else(|| Error::not_found("portfolio"))?)
    };
    let mut its = buildings::list(conn, &actor.scope)?;
    its.retain(|building| Some(building.portfolio) == one.as_ref().map(|one| one.id));
    Ok((all, one, its))
}

fn selection(all: &[Portfolio], one: Option<Portfolio>, buildings: usize, reckoned: usize) -> Selection {
    let mut said = language::count(buildings, "building", "buildings");
    if reckoned < buildings {
        said = format!("{said}, of which {reckoned} had joined");
    }
    let (portfolio, name) = one.map_or_else(
        || (String::new(), "No portfolio".to_owned()),
        |one| (one.facts.code, one.facts.name),
    );
    Selection {
        portfolio,
        name,
        all: all
            .iter()
            .map(|one| Choice::new(one.facts.code.as_str(), one.facts.name.as_str()))
            .collect(),
        said,
    }
}

/// Shows the score of a portfolio, today or on the day that the address asks for.
///
/// # Errors
/// When there is no such portfolio in sight, or the day can't be looked at.
pub async fn score(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let wanted = asked.text("portfolio").to_owned();
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let (now, today) = (context.now, context.today());
    let (choice, found) = context
        .read(move |conn, actor| {
            let (all, one, its) = chosen(conn, actor, &wanted)?;
            let buildings = its.len();
            let found = together::rate(conn, now, its, day)?;
            Ok((selection(&all, one, buildings, found.lines.len()), found))
        })
        .await?;
    respond::page(&ScorePage {
        chrome: Chrome::new(&context, &request, "Score"),
        choice,
        figures: figures(&found),
        rows: found
            .lines
            .iter()
            .map(|line| score_row(line, &found.bands))
            .collect(),
        within_days: within_days()?,
        as_of: day.unwrap_or(today),
        past: day.is_some_and(|day| day < today),
    })
}

fn figures(found: &Rated) -> Vec<Figure> {
    let (score, verdict) = score_words(found.score.as_ref());
    let figure = |value, word: &str| Figure {
        value,
        word: word.to_owned(),
        href: "#buildings".to_owned(),
    };
    vec![
        figure(score, &format!("score, {verdict}")),
        figure(found.share.words(), "of checks current"),
        figure(index_words(found.index.as_ref(), &found.bands), "condition index"),
    ]
}

fn score_row(line: &Line, bands: &Bands) -> ScoreRow {
    let (score, verdict) = score_words(line.score.as_ref());
    ScoreRow {
        code: line.code.clone(),
        name: line.name.clone(),
        score,
        verdict,
        inspected: format!("{} of {}", line.inspected, line.units),
        open: line.open,
        current: line.share.words(),
        index: index_words(line.index.as_ref(), bands),
    }
}

/// Shows the forecast of a portfolio.
///
/// # Errors
/// When there is no such portfolio in sight.
pub async fn ahead(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let wanted = asked.text("portfolio").to_owned();
    let (now, years) = (context.now, asked_years(&asked));
    let (choice, (all, parts)) = context
        .read(move |conn, actor| {
            let (all, one, its) = chosen(conn, actor, &wanted)?;
            let buildings = its.len();
            let found = together::look_ahead(conn, now, its, years)?;
            Ok((selection(&all, one, buildings, found.1.len()), found))
        })
        .await?;
    let today = context.today();
    respond::page(&ForecastPage {
        chrome: Chrome::new(&context, &request, "Forecast"),
        picture: bars(&choice.name, &all, today),
        years: year_rows(&all, today),
        kinds: all.lines.iter().map(kind_row).collect(),
        rows: parts.iter().map(ahead_row).collect(),
        years_ahead: years,
        choice,
    })
}

fn ahead_row(part: &Part) -> AheadRow {
    AheadRow {
        code: part.code.clone(),
        name: part.name.clone(),
        replacements: tenths(part.replacements),
        cost: money::text(part.cost_minor),
        budget: money::text(part.budget_minor),
    }
}
