//! Adds a building.

use actix_web::HttpRequest;

use super::form::{self, Page};
use crate::actions::register::add_building;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let fields = form::blank(asked.text("portfolio"));
    respond::page(&page(&context, &request, fields, Vec::new()).await?)
}

/// Adds what was typed.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let typed = form::read(&form);
    let code = typed.text.code.trim().to_uppercase();
    match context
        .act(move |db, actor, now| add_building::add(db, actor, now, &typed))
        .await
    {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/buildings/{code}"),
            "Building added.",
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, form.0, errors).await?)
        }
    }
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    fields: Fields,
    errors: Vec<FieldError>,
) -> Result<Page, PageError> {
    let choices = context.read(|conn, _| form::choices(conn)).await?;
    Ok(Page {
        chrome: Chrome::new(context, request, "Add a building"),
        heading: "Add a building".to_owned(),
        word: "Add the building",
        back: "/buildings".to_owned(),
        fields,
        errors,
        choices,
    })
}
