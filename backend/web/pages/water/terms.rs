//! What holds in one building instead of the office's own: what water costs, which programme of times to correct. A manager's page.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::deficiencies::times;
use crate::actions::water::{SetTerms, TermsText, set_terms};
use crate::domain::register::Building;
use crate::domain::trade::water::{Billed, TariffText};
use crate::error::FieldError;
use crate::store::{buildings, terms};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/water/terms.html")]
struct TermsPage {
    chrome: Chrome,
    code: String,
    home: String,
    name: String,
    fields: Fields,
    units: Vec<Choice>,
    programmes: Vec<Choice>,
    errors: Vec<FieldError>,
}

/// Shows the form with the terms as they are.
///
/// # Errors
/// When there is no such building.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let (building, kept) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let kept = terms::of_building(conn, building.id)?;
            Ok((building, kept))
        })
        .await?;
    let text = kept.tariff.as_ref().map(TariffText::from).unwrap_or_default();
    let mut fields = Fields::default();
    for (name, value) in [
        ("water_price", text.water_price),
        ("sewer_price", text.sewer_price),
        ("billed", text.billed),
        ("currency", text.currency),
        ("programme", kept.programme),
    ] {
        fields.set(name, value);
    }
    if fields.text("billed").is_empty() {
        fields.set("billed", Billed::Ccf.to_string());
    }
    respond::page(&page(&context, &request, &building, fields, Vec::new())?)
}

/// Sets the terms.
///
/// # Errors
/// When there is no such building.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let building = context
        .read(move |conn, actor| buildings::by_code(conn, &actor.scope, &code))
        .await?;
    let Form(fields) = form;
    let text = |name: &str| fields.text(name).to_owned();
    let command = SetTerms {
        building: building.id,
        text: TermsText {
            tariff: TariffText {
                water_price: text("water_price"),
                sewer_price: text("sewer_price"),
                billed: text("billed"),
                currency: text("currency"),
            },
            programme: text("programme"),
        },
    };
    let done = context
        .act(move |db, actor, now| set_terms(db, actor, now, &command))
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/buildings/{}/water", building.facts.code),
            "Terms set. They hold from now on.",
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, &building, fields, errors)?)
        }
    }
}

fn page(
    context: &Context,
    request: &HttpRequest,
    building: &Building,
    fields: Fields,
    errors: Vec<FieldError>,
) -> crate::error::Result<TermsPage> {
    let name = building.facts.name.clone();
    Ok(TermsPage {
        chrome: Chrome::new(context, request, &format!("Terms of {name}")),
        home: format!("/buildings/{}", building.facts.code),
        code: building.facts.code.clone(),
        name,
        fields,
        units: Choice::every(Billed::name),
        programmes: times::programmes()?
            .iter()
            .map(|one| Choice::new(one.code.as_str(), one.name.as_str()))
            .collect(),
        errors,
    })
}
