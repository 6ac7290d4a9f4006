//! One check: what to do, what passes and where that comes from, who may do it, what to mind; and how it was asked before.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::words;
use crate::domain::due::Schedule;
use crate::domain::register::person::Role;
use crate::domain::trade::{Answer, Caution, Check, Origin};
use crate::error::{Error, FieldError, Result};
use crate::language::{CheckWords, Language};
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
    cautions: Vec<String>,
    facts: Vec<Fact>,
    is_own: bool,
    is_withdrawn: bool,
    /// Whose it is and in which version.
    standing: String,
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
    /// Behind the number: since when.
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
    let (today, language) = (context.today(), context.language());
    let mut page = context
        .read(move |conn, _| load(conn, &code, version, today, language))
        .await?;
    page.chrome = Chrome::new(context, request, &page.title).spoken();
    page.may_change = context.actor().role == Role::Manager;
    if let Some(new_code) = new_code {
        page.new_code = new_code;
    }
    page.errors = language.errors(errors);
    Ok(page)
}

fn load(
    conn: &mut AnyConnection,
    code: &str,
    version: Option<u32>,
    today: chrono::NaiveDate,
    language: Language,
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
    let is_own = stored.origin == Origin::Own;
    let is_old = check.version != stored.check.version;
    let said = language.check(check);
    let (pass, reading, limits) = answer(check, &said, language);
    Ok(Show {
        chrome: Chrome::anonymous(""),
        may_change: false,
        code: check.code.as_str().to_owned(),
        title: said.title,
        ask: said.ask,
        method: said.method,
        pass,
        reading,
        limits,
        smells_of_gas: check.cautions.contains(&Caution::Gas),
        cautions: check
            .cautions
            .iter()
            .map(|danger| language.advice(*danger))
            .collect(),
        facts: words::facts(language, check),
        is_own,
        is_withdrawn: !stored.active,
        standing: standing(language, is_own, is_old, check.version),
        is_old,
        versions: versions
            .into_iter()
            .map(|(number, since)| Version {
                number,
                since: language
                    .say("checks-since")
                    .with("day", language.day(since.date(), today))
                    .into(),
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

fn standing(language: Language, is_own: bool, is_old: bool, version: u32) -> String {
    let said = language.say(match (is_own, is_old) {
        (true, false) => "checks-own-version",
        (true, true) => "checks-own-version-then",
        (false, false) => "checks-built-in-version",
        (false, true) => "checks-built-in-version-then",
    });
    said.with("version", version).into()
}

fn named(schedule: &Schedule) -> (String, String, bool) {
    let terms = &schedule.terms;
    (terms.code.clone(), terms.name.clone(), terms.active)
}

type Answered = (Option<(String, String)>, Option<String>, Vec<LimitRow>);

fn answer(check: &Check, said: &CheckWords, language: Language) -> Answered {
    match &check.answer {
        Answer::Verdict { .. } => (Some((said.pass.clone(), said.fail.clone())), None, Vec::new()),
        Answer::Reading { unit, limits, .. } => {
            let rows = limits.iter().map(|limit| LimitRow {
                limit: language.limit(limit),
                profiles: words::profiles(language, limit),
                source: language.source(&limit.source),
            });
            {
                let reading = language.say("checks-reading").with("of", &said.of);
                let reading = reading.with("unit", language.word(*unit)).to_string();
                (None, Some(reading), rows.collect())
            }
        }
    }
}
