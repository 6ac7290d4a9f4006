//! The times to correct: a programme, and any severity's own time. Everybody of the staff may read them; a manager sets them.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::deficiencies::times::{self, Times};
use crate::domain::code::Coded as _;
use crate::domain::register::person::Role;
use crate::domain::result::times::text;
use crate::domain::trade::correction::Allowance;
use crate::domain::trade::{Escalation, Severity, correction};
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/deficiencies/times.html")]
struct TimesPage {
    chrome: Chrome,
    may_set: bool,
    programmes: Vec<Programme>,
    programme: String,
    escalation: String,
    escalations: Vec<Choice>,
    choices: Vec<Choice>,
    rows: Vec<Row>,
    errors: Vec<FieldError>,
}

struct Programme {
    code: String,
    name: String,
    source: String,
}

struct Row {
    code: &'static str,
    name: String,
    own: String,
    holds: String,
    programmes: Vec<(String, String)>,
}

/// Shows the times that hold.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let chosen = context.read(|conn, _| times::chosen(conn)).await?;
    let mut typed = Fields::default();
    typed.set("programme", chosen.programme);
    typed.set("escalation", chosen.escalation.code());
    for (severity, own) in chosen.own {
        typed.set(severity.code(), own);
    }
    render(&context, &request, &typed, Vec::new()).await
}

/// Sets the times.
///
/// # Errors
/// For anybody but a manager.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(typed) = form;
    let chosen = Times {
        programme: typed.text("programme").to_owned(),
        own: Severity::ALL
            .iter()
            .map(|severity| (*severity, typed.text(severity.code()).to_owned()))
            .collect(),
        escalation: Escalation::from_code(typed.text("escalation")).unwrap_or(Escalation::OneGrade),
    };
    let done = context
        .act(move |db, actor, now| times::choose(db, actor, now, &chosen))
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying(
            "/deficiencies/times",
            &context.say("times-set").to_string(),
        )),
        Err(error) => render(&context, &request, &typed, to_mend(error)?).await,
    }
}

async fn render(
    context: &Context,
    request: &HttpRequest,
    typed: &Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let current = context.read(|conn, _| times::current(conn)).await?;
    let is_again = !errors.is_empty();
    let language = context.language();
    let every = times::programmes()?;
    let page = TimesPage {
        chrome: Chrome::new(context, request, &context.say("times").to_string()).spoken(),
        may_set: context.actor().role == Role::Manager,
        programme: typed.text("programme").to_owned(),
        escalation: typed.text("escalation").to_owned(),
        escalations: Choice::every_in::<Escalation>(language),
        choices: every
            .iter()
            .map(|programme| Choice::new(programme.code.as_str(), language.sentence(&programme.name)))
            .collect(),
        programmes: programmes(language)?,
        rows: Severity::ALL
            .iter()
            .map(|severity| Row {
                code: severity.code(),
                name: language.word(*severity),
                own: typed.text(severity.code()).to_owned(),
                holds: allowed(language, current.of(*severity)),
                programmes: by_programme(language, *severity, every),
            })
            .collect(),
        errors: language.errors(errors),
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn programmes(language: Language) -> Result<Vec<Programme>, Error> {
    let every = times::programmes()?.iter().map(|programme| Programme {
        code: programme.code.clone(),
        name: language.sentence(&programme.name),
        source: language.source(&programme.source),
    });
    Ok(every.collect())
}

/// Each programme's code with its time for a severity.
fn by_programme(
    language: Language,
    severity: Severity,
    every: &[correction::Programme],
) -> Vec<(String, String)> {
    every
        .iter()
        .map(|programme| {
            let time = allowed(language, programme.times.of(severity));
            (programme.code.clone(), time)
        })
        .collect()
}

/// A time as it is read; in the fields it is typed and shown as the office writes it.
fn allowed(language: Language, allowance: Allowance) -> String {
    match allowance {
        Allowance::NoDeadline => language.say("times-none").into(),
        allowance => text(allowance),
    }
}
