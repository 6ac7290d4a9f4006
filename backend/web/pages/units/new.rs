//! Adds a unit to a building.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::add_unit;
use crate::domain::register::Building;
use crate::error::FieldError;
use crate::store::buildings;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form.
///
/// # Errors
/// When there is no such building.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let building = context
        .read(move |conn, actor| buildings::by_code(conn, &actor.scope, &code))
        .await?;
    let blank = Fields::from_pairs(&[("kind", "unit"), ("floor", "1"), ("occupancy", "occupied")]);
    respond::page(&page(&context, &request, &building, (blank, Vec::new())))
}

/// Adds what was typed.
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
    let (typed, id) = (form::read(&form), building.id);
    match context
        .act(move |db, actor, now| add_unit::add(db, actor, now, id, &typed))
        .await
    {
        Ok(unit) => Ok(respond::redirect_saying(&format!("/units/{unit}"), "Unit added.")),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, &building, (form.0, errors)))
        }
    }
}

fn page(
    context: &Context,
    request: &HttpRequest,
    building: &Building,
    (fields, errors): (Fields, Vec<FieldError>),
) -> Page {
    let heading = format!("Add a unit to {}", building.facts.name);
    Page {
        chrome: Chrome::new(context, request, &heading),
        building: building.facts.code.clone(),
        heading,
        word: "Add the unit",
        back: format!("/buildings/{}", building.facts.code),
        fields,
        errors,
        kinds: form::kinds(),
        occupancies: form::occupancies(None),
    }
}
