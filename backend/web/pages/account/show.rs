//! The account page. Its forms are answered by its neighbours; each shows this page again with what to mend.

use actix_web::HttpRequest;
use askama::Template;

use crate::domain::register::person::Role;
use crate::error::{Error, FieldError};
use crate::store::people;
use crate::store::sessions::{self, Listed};
use crate::web::choice::Choice;
use crate::web::chrome::{Chrome, role_in};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::{gate, respond};

/// The account page.
#[derive(Template)]
#[template(path = "pages/account/show.html")]
pub(super) struct Account {
    chrome: Chrome,
    email: String,
    role: String,
    language: String,
    languages: Vec<Choice>,
    gets_digest: Option<()>,
    time_zone: String,
    digest_hour: String,
    sessions: Vec<Row>,
    others: usize,
    errors: Vec<FieldError>,
}

struct Row {
    id: i64,
    browser: String,
    began: String,
    seen: String,
    ends: String,
    this: Option<()>,
}

/// Shows the account.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    respond::page(&page(&context, &request, None).await?)
}

/// The page, with what was typed and what is wrong with it.
pub(super) async fn page(
    context: &Context,
    request: &HttpRequest,
    wrong: Option<(&Fields, Vec<FieldError>)>,
) -> Result<Account, Error> {
    let own = context.actor().person.ok_or(Error::SignedOut)?;
    let now = context.now.0;
    let (person, listed) = context
        .read(move |conn, _| {
            let person = people::by_id(conn, own)?.person;
            Ok((person, sessions::of_person(conn, own, now)?))
        })
        .await?;
    let role = person.role;
    let rows: Vec<Row> = listed
        .into_iter()
        .filter(|session| now - session.last_seen_at <= gate::idle_limit(role))
        .map(|session| row(session, context))
        .collect();
    let (typed, errors) = wrong.map_or((None, Vec::new()), |(fields, errors)| (Some(fields), errors));
    let as_typed = |name: &str, kept: String| match typed {
        Some(fields) if fields.has(name) => fields.text(name).to_owned(),
        _ => kept,
    };
    Ok(Account {
        chrome: Chrome::new(context, request, &context.say("account").to_string()).spoken(),
        gets_digest: (role != Role::Owner).then_some(()),
        time_zone: as_typed("time_zone", person.facts.time_zone.name().to_owned()),
        digest_hour: as_typed("digest_hour", person.facts.digest_hour.to_string()),
        email: person.facts.email,
        role: role_in(context.language(), role),
        language: as_typed("language", person.facts.language.to_string()),
        languages: Choice::languages(),
        others: rows.iter().filter(|row| row.this.is_none()).count(),
        sessions: rows,
        errors: context.language().errors(errors),
    })
}

fn row(session: Listed, context: &Context) -> Row {
    let moment = |at| context.language().moment(at, context.zone(), context.today());
    Row {
        id: session.id,
        browser: browser(&session.user_agent, context),
        began: moment(session.created_at),
        seen: moment(session.last_seen_at),
        ends: moment(session.ends_at),
        this: (session.id == context.session.id).then_some(()),
    }
}

/// What a browser calls itself, as far as people know it by: its own name and the system it runs on.
fn browser(agent: &str, context: &Context) -> String {
    let known = |names: &[(&str, &'static str)]| {
        names
            .iter()
            .find(|(token, _)| agent.contains(token))
            .map(|(_, name)| *name)
    };
    let program = known(&[
        ("Edg/", "Edge"),
        ("Firefox/", "Firefox"),
        ("Chrome/", "Chrome"),
        ("Safari/", "Safari"),
    ]);
    let system = known(&[
        ("Android", "Android"),
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Windows", "Windows"),
        ("Mac OS X", "macOS"),
        ("Linux", "Linux"),
    ]);
    match (program, system) {
        (Some(program), Some(system)) => {
            let said = context.say("account-browser-on").with("program", program);
            said.with("system", system).to_string()
        }
        (Some(program), None) => program.to_owned(),
        _ => context.say("account-browser-unknown").to_string(),
    }
}
