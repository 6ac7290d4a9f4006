//! One check: what to do, what passes and where that comes from, who may do it, what to mind; and how it was asked before.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::words;
use crate::domain::due::Schedule;
use crate::domain::register::person::Role;
use crate::domain::trade::caution::GAS_SMELL;
use crate::domain::trade::{Answer, Caution, Check, Origin};
use crate::error::{Error, FieldError, Result};
use crate::language;
use crate::store::{AnyConnection, checks, schedules};
use crate::web::choice::Fact;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/checks/show.html")]
struct Show {
    chrome: Chrome,
    may_change: bool,
    code: String,
    title: String,
    ask: String,
    method: Vec<String>,
    pass: Option<(String, String)>,
    reading: Option<String>,
    limits: Vec<LimitRow>,
    smells_of_gas: bool,
    cautions: Vec<&'static str>,
    facts: Vec<Fact>,
    is_own: bool,
    is_withdrawn: bool,
    version: u32,
    is_old: bool,
    versions: Vec<Version>,
    schedules: Vec<(String, String, bool)>,
    new_code: String,
    errors: Vec<FieldError>,
}

struct LimitRow {
    limit: String,
    profiles: String,
    source: String,
}

struct Version {
    number: u32,
    since: String,
    is_shown: bool,
}

/// Shows it, in the version that the address names, or as it is now.
///
/// # Errors
/// When there is no such check or version.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let version = match asked.text("version") {
        "" => None,
        text => Some(
            text.parse()
                .map_err(|_no_number| Error::not_found("such version"))?,
        ),
    };
    let page = page(&context, &request, code.into_inner(), version, Vec::new(), None).await?;
    respond::page(&page)
}

/// Shows it again, with why it was not copied.
///
/// # Errors
/// When there is no such check.
pub(super) async fn again(
    context: &Context,
    request: &HttpRequest,
    code: String,
    new_code: String,
    errors: Vec<FieldError>,
) -> PageResult {
    respond::form_again(&page(context, request, code, None, errors, Some(new_code)).await?)
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    code: String,
    version: Option<u32>,
    errors: Vec<FieldError>,
    new_code: Option<String>,
) -> Result<Show> {
    let today = context.today();
    let mut page = context
        .read(move |conn, _| load(conn, &code, version, today))
        .await?;
    page.chrome = Chrome::new(context, request, &page.title);
    page.may_change = context.actor().role == Role::Manager;
    if let Some(new_code) = new_code {
        page.new_code = new_code;
    }
    page.errors = errors;
    Ok(page)
}

fn load(
    conn: &mut AnyConnection,
    code: &str,
    version: Option<u32>,
    today: chrono::NaiveDate,
) -> Result<Show> {
    let stored = checks::by_code(conn, code)?.ok_or_else(|| Error::not_found("such check"))?;
    let shown = match version {
        None => std::sync::Arc::clone(&stored.check),
        Some(version) => checks::by_version(conn, stored.id, version)?
            .ok_or_else(|| Error::not_found("such version of this check"))?,
    };
    let versions = checks::versions(conn, stored.id)?;
    let asking = schedules::load_all(conn)?;
    let check: &Check = &shown;
    let (pass, reading, limits) = answer(check);
    Ok(Show {
        chrome: Chrome::anonymous(""),
        may_change: false,
        code: check.code.as_str().to_owned(),
        title: check.title.clone(),
        ask: check.ask.clone(),
        method: check.method.clone(),
        pass,
        reading,
        limits,
        smells_of_gas: check.cautions.contains(&Caution::Gas),
        cautions: check.cautions.iter().map(|caution| caution.advice()).collect(),
        facts: words::facts(check),
        is_own: stored.origin == Origin::Own,
        is_withdrawn: !stored.active,
        version: check.version,
        is_old: check.version != stored.check.version,
        versions: versions
            .into_iter()
            .map(|(number, since)| Version {
                number,
                since: language::day(since.date(), today),
                is_shown: number == check.version,
            })
            .collect(),
        schedules: asking
            .iter()
            .filter(|schedule| schedule.terms.checks.contains(&stored.id))
            .map(named)
            .collect(),
        new_code: format!("{}_own", check.code),
        errors: Vec::new(),
    })
}

fn named(schedule: &Schedule) -> (String, String, bool) {
    let terms = &schedule.terms;
    (terms.code.clone(), terms.name.clone(), terms.active)
}

type Answered = (Option<(String, String)>, Option<String>, Vec<LimitRow>);

fn answer(check: &Check) -> Answered {
    match &check.answer {
        Answer::Verdict { pass, fail } => (Some((pass.clone(), fail.clone())), None, Vec::new()),
        Answer::Reading { of, unit, limits } => {
            let rows = limits.iter().map(|limit| LimitRow {
                limit: words::limit(limit),
                profiles: words::profiles(limit),
                source: limit.source.phrase(),
            });
            (None, Some(format!("{of}, in {}", unit.name())), rows.collect())
        }
    }
}

impl Show {
    /// What to do first where gas may be smelled.
    fn gas_smell(&self) -> &'static str {
        GAS_SMELL
    }
}
