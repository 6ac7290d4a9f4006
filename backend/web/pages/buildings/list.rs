//! The buildings that a person sees, with what stands and what is wrong in each.

use actix_web::HttpRequest;
use askama::Template;

use crate::clock::Now;
use crate::domain::register::Portfolio;
use crate::domain::register::person::{Role, Scope};
use crate::error::Result;
use crate::language::Language;
use crate::store::lists::buildings::{self, Page, Summary, Wanted};
use crate::store::{AnyConnection, portfolios};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Buildings on one page.
const ROWS: usize = 100;

#[derive(Template)]
#[template(path = "pages/buildings/list.html")]
struct List {
    chrome: Chrome,
    may_change: bool,
    rows: Vec<Row>,
    shown: String,
    first: Option<String>,
    next: Option<String>,
    portfolio: String,
    words: Heads,
    portfolios: Vec<Choice>,
    /// The portfolio that the list is cut to, or the only one there is.
    one_portfolio: Option<Choice>,
}

/// The heads of the table, which stand on every row of a narrow page too.
struct Heads {
    code: String,
    portfolio: String,
    units: String,
    fixtures: String,
    overdue: String,
    deficiencies: String,
    worst: String,
}

impl Heads {
    fn of(language: Language) -> Self {
        Self {
            code: language.say("building-code").into(),
            portfolio: language.say("building-portfolio").into(),
            units: language.say("buildings-units").into(),
            fixtures: language.say("building-head-fixtures").into(),
            overdue: language.say("due-head-overdue").into(),
            deficiencies: language.say("building-head-deficiencies").into(),
            worst: language.say("building-head-worst").into(),
        }
    }
}

struct Row {
    code: String,
    name: String,
    portfolio: String,
    units: String,
    fixtures: String,
    overdue: i64,
    open: i64,
    worst: Option<(&'static str, String)>,
}

/// Shows a page of the list.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let (after, portfolio) = (asked.text("after").to_owned(), asked.text("portfolio").to_owned());
    let (code, now, language) = (portfolio.clone(), context.now, context.language());
    let after_code = (!after.is_empty()).then_some(after);
    let first = after_code.as_ref().map(|_| address(&portfolio, None));
    let (page, known) = context
        .read(move |conn, actor| {
            let known = portfolios::list(conn, &actor.scope)?;
            let page = load(conn, &actor.scope, &known, (&code, after_code), now)?;
            Ok((page, known))
        })
        .await?;
    let total = usize::try_from(page.total).unwrap_or(0);
    let shown = match page.next {
        None if first.is_none() => language.count("buildings-count", total),
        _ => {
            let said = language.say("buildings-of").with("shown", page.rows.len());
            said.with("count", total)
                .with("number", language.grouped(total))
                .into()
        }
    };
    let choices: Vec<_> = known
        .iter()
        .map(|portfolio| Choice::new(&portfolio.facts.code, &portfolio.facts.name))
        .collect();
    let chosen = choices
        .iter()
        .find(|choice| choice.value == portfolio || choices.len() == 1);
    respond::page(&List {
        chrome: Chrome::new(&context, &request, &String::from(language.say("place-buildings"))).spoken(),
        may_change: context.actor().role == Role::Manager,
        rows: page
            .rows
            .iter()
            .map(|summary| row(summary, &known, language))
            .collect(),
        shown,
        first,
        next: page.next.map(|code| address(&portfolio, Some(&code))),
        portfolio,
        words: Heads::of(language),
        one_portfolio: chosen.cloned(),
        portfolios: choices,
    })
}

fn load(
    conn: &mut AnyConnection,
    scope: &Scope,
    known: &[Portfolio],
    (portfolio, after): (&str, Option<String>),
    now: Now,
) -> Result<Page> {
    let wanted = Wanted {
        portfolio: known
            .iter()
            .find(|known| known.facts.code == portfolio)
            .map(|known| known.id),
        after,
        limit: ROWS,
    };
    buildings::page(conn, scope, &wanted, now)
}

fn address(portfolio: &str, after: Option<&str>) -> String {
    let pairs = [("portfolio", portfolio), ("after", after.unwrap_or_default())];
    let filled: Vec<_> = pairs.into_iter().filter(|(_, value)| !value.is_empty()).collect();
    match serde_urlencoded::to_string(filled) {
        Ok(query) if !query.is_empty() => format!("/buildings?{query}"),
        _ => "/buildings".to_owned(),
    }
}

fn row(summary: &Summary, portfolios: &[Portfolio], language: Language) -> Row {
    let grouped = |number: i64| language.grouped(usize::try_from(number).unwrap_or(0));
    let facts = &summary.building.facts;
    Row {
        code: facts.code.clone(),
        name: facts.name.clone(),
        portfolio: portfolios
            .iter()
            .find(|portfolio| portfolio.id == summary.building.portfolio)
            .map_or_else(String::new, |portfolio| portfolio.facts.name.clone()),
        units: grouped(summary.units),
        fixtures: grouped(summary.fixtures),
        overdue: summary.overdue,
        open: summary.open.count,
        worst: summary
            .open
            .worst
            .map(|worst| super::front::severity_words(language, worst)),
    }
}
