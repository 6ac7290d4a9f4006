//! Changes a building.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::change_building;
use crate::domain::register::Building;
use crate::error::FieldError;
use crate::store::{buildings, portfolios};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form with the building as it is.
///
/// # Errors
/// When there is no such building.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let (building, fields) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let portfolio = portfolios::by_key(conn, building.portfolio)?;
            let technician = buildings::technicians(conn)?
                .into_iter()
                .find(|person| Some(person.id) == building.technician)
                .map_or_else(String::new, |person| person.email);
            let fields = form::fields_of(&building, &portfolio.facts.code, &technician);
            Ok((building, fields))
        })
        .await?;
    respond::page(&page(&context, &request, &building, (fields, Vec::new())).await?)
}

/// Changes the building to what was typed.
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
    let code = typed.text.code.trim().to_uppercase();
    match context
        .act(move |db, actor, now| change_building::change(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/buildings/{code}"),
            "Building changed.",
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, &building, (form.0, errors)).await?)
        }
    }
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    building: &Building,
    (fields, errors): (Fields, Vec<FieldError>),
) -> Result<Page, PageError> {
    let choices = context.read(|conn, _| form::choices(conn)).await?;
    let heading = format!("Change {}", building.facts.name);
    Ok(Page {
        chrome: Chrome::new(context, request, &heading),
        heading,
        word: "Save the building",
        back: format!("/buildings/{}", building.facts.code),
        fields,
        errors,
        choices,
    })
}
