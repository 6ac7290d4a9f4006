//! A portfolio's score and forecast: its buildings together, and each leading to its own figures.

use actix_web::HttpRequest;
use askama::Template;

use super::forecast::{KindRow, YearRow, asked_years, bars, kind_row, year_rows};
use super::score::{Figure, index_words, score_words, within_days};
use crate::actions::condition::ahead::{self, Ahead};
use crate::actions::condition::rating::{self, Rating};
use crate::domain::condition::index::Index;
use crate::domain::condition::share::Share;
use crate::domain::forecast::{Standing, forecast};
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

/// Buildings that are reckoned together on one page.
const MOST: usize = 60;

#[derive(Template)]
#[template(path = "pages/condition/portfolio_score.html")]
struct ScorePage {
    chrome: Chrome,
    choice: Selection,
    figures: Vec<Figure>,
    rows: Vec<ScoreRow>,
    within_days: u32,
}

struct ScoreRow {
    code: String,
    name: String,
    score: String,
    verdict: String,
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

fn selection(all: &[Portfolio], one: Option<Portfolio>, buildings: usize) -> Selection {
    let mut said = language::count(buildings, "building", "buildings");
    if buildings > MOST {
        said = format!("{said}, of which the first {MOST} by code are reckoned");
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

/// Shows the score of a portfolio.
///
/// # Errors
/// When there is no such portfolio in sight.
pub async fn score(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let wanted = asked.text("portfolio").to_owned();
    let now = context.now;
    let (choice, found) = context
        .read(move |conn, actor| {
            let (all, one, its) = chosen(conn, actor, &wanted)?;
            let mut found = Vec::new();
            for building in its.iter().take(MOST) {
                let today = now.date_in(building.facts.time_zone);
                if building.facts.joined_on <= today {
                    found.push(rating::rate(conn, &actor.scope, now, &building.facts.code, None)?);
                }
            }
            Ok((selection(&all, one, its.len()), found))
        })
        .await?;
    respond::page(&ScorePage {
        chrome: Chrome::new(&context, &request, "Score"),
        choice,
        figures: together(&found)?,
        rows: found.iter().map(score_row).collect(),
        within_days: within_days()?,
    })
}

fn together(found: &[Rating]) -> Result<Vec<Figure>> {
    let score = score_words(rating::together(found)?.as_ref());
    let share = found
        .iter()
        .fold(Share::default(), |all, one| all.and(one.share()));
    let sum = |of: fn(&Index) -> i64| found.iter().filter_map(|one| one.index.as_ref()).map(of).sum();
    let index = Index::new(sum(|one| one.deferred_minor), sum(|one| one.replacement_minor));
    let bands = found.first().map(|one| one.figures.bands);
    let index = index.zip(bands).map_or_else(
        || "none".to_owned(),
        |(index, bands)| format!("{:.1} %, {}", index.ratio() * 100.0, index.band(&bands)),
    );
    let figure = |value, word: &str| Figure {
        value,
        word: word.to_owned(),
        href: "#buildings".to_owned(),
    };
    Ok(vec![
        figure(score.0, &score.1),
        figure(share.words(), "of checks current"),
        figure(index, "condition index"),
    ])
}

fn score_row(found: &Rating) -> ScoreRow {
    let (score, verdict) = score_words(found.score.as_ref());
    ScoreRow {
        code: found.building.facts.code.clone(),
        name: found.building.facts.name.clone(),
        score,
        verdict,
        inspected: format!("{} of {}", found.units_inspected(), found.units.len()),
        open: found.rows.len(),
        current: found.share().words(),
        index: index_words(found),
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
    let (choice, found) = context
        .read(move |conn, actor| {
            let (all, one, its) = chosen(conn, actor, &wanted)?;
            let mut found = Vec::new();
            for building in its.iter().take(MOST) {
                let today = now.date_in(building.facts.time_zone);
                if building.facts.joined_on <= today {
                    let code = &building.facts.code;
                    found.push(ahead::look(conn, &actor.scope, now, code, None, years)?);
                }
            }
            Ok((selection(&all, one, its.len()), found))
        })
        .await?;
    let standing: Vec<Standing> = found
        .iter()
        .flat_map(|one| one.standing.iter().copied())
        .collect();
    let lives = found
        .first()
        .map(|one| one.figures.lives.clone())
        .unwrap_or_default();
    let all = forecast(&standing, &lives, years).map_err(Error::refused)?;
    let today = context.today();
    respond::page(&ForecastPage {
        chrome: Chrome::new(&context, &request, "Forecast"),
        picture: bars(&choice.name, &all, today),
        years: year_rows(&all, today),
        kinds: all.lines.iter().map(kind_row).collect(),
        rows: found.iter().map(ahead_row).collect(),
        years_ahead: years,
        choice,
    })
}

fn ahead_row(found: &Ahead) -> AheadRow {
    let total = &found.forecast.total.expected;
    AheadRow {
        code: found.building.facts.code.clone(),
        name: found.building.facts.name.clone(),
        replacements: format!("{:.1}", total.replacements),
        cost: money::text(total.cost_minor),
        budget: money::text(found.due().map(|row| row.cost_minor).sum()),
    }
}
