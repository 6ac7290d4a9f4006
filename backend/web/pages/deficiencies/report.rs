//! Taking down a resident's report. The smell of gas stands before the form: then nobody fills in anything.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::deficiencies::{Report, report};
use crate::domain::code::Coded as _;
use crate::domain::register::{TagId, UnitId};
use crate::domain::trade::Severity;
use crate::error::FieldError;
use crate::language::Language;
use crate::store::spots::{self, SpotUnit};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/deficiencies/report.html")]
struct ReportPage {
    chrome: Chrome,
    unit: SpotUnit,
    home: String,
    gas_smell: String,
    deference: String,
    places: Vec<Choice>,
    severities: Vec<Choice>,
    typed: Fields,
    errors: Vec<FieldError>,
}

/// What each severity means, for whoever judges.
///
/// # Source
/// Examples in the sense of the HUD NSPIRE standards (88 FR 43371, 2023); the wording is ours.
fn severities(language: Language) -> Vec<Choice> {
    let meaning = |severity: Severity| match severity {
        Severity::LifeThreatening => language.say("report-life-threatening"),
        Severity::Severe => language.say("report-severe"),
        Severity::Moderate => language.say("report-moderate"),
        Severity::Low => language.say("report-low"),
    };
    Severity::ALL
        .iter()
        .map(|severity| Choice::new(severity.code(), meaning(*severity)))
        .collect()
}

/// Shows the form.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn show(context: Context, unit: web::Path<i64>, request: HttpRequest) -> PageResult {
    render(&context, &request, UnitId(*unit), Fields::default(), Vec::new()).await
}

/// Opens a deficiency from the report.
///
/// # Errors
/// When there is no such unit or place that may be seen.
pub async fn submit(context: Context, unit: web::Path<i64>, request: HttpRequest, form: Form) -> PageResult {
    let unit = UnitId(*unit);
    let Form(typed) = form;
    let command = Report {
        unit,
        tag: typed.text("tag").parse().ok().map(TagId),
        title: typed.text("title").to_owned(),
        detail: typed.text("detail").to_owned(),
        severity: Severity::from_code(typed.text("severity")).ok(),
    };
    let done = context
        .act(move |db, actor, now| report(db, actor, now, &command))
        .await;
    match done {
        Ok(id) => Ok(respond::redirect_saying(
            &format!("/deficiencies/{id}"),
            &context.say("report-taken-down").to_string(),
        )),
        Err(error) => render(&context, &request, unit, typed, to_mend(error)?).await,
    }
}

async fn render(
    context: &Context,
    request: &HttpRequest,
    unit: UnitId,
    typed: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let (unit, places) = context
        .read(move |conn, actor| {
            let unit = spots::unit(conn, &actor.scope, unit)?;
            let places = spots::tags_of(conn, unit.id)?;
            Ok((unit, places))
        })
        .await?;
    let is_again = !errors.is_empty();
    let language = context.language();
    let title = language.say("report-title").with("unit", &unit.label);
    let place = |(tag, label, room): (TagId, String, String)| {
        let words = if room.is_empty() {
            label
        } else {
            format!("{label}, {room}")
        };
        Choice::new(tag.to_string(), words)
    };
    let page = ReportPage {
        chrome: Chrome::new(context, request, &title.to_string()).spoken(),
        home: format!("/units/{}", unit.id),
        gas_smell: language.gas_smell(),
        deference: language.deference(),
        places: places.into_iter().map(place).collect(),
        severities: severities(language),
        unit,
        typed,
        errors: language.errors(errors),
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}
