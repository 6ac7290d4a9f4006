//! Adds a portfolio.

use actix_web::HttpRequest;

use super::form::{self, Page};
use crate::actions::register::add_portfolio;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form.
///
/// # Errors
/// When the template fails.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    respond::page(&page(&context, &request, Fields::default(), Vec::new()))
}

/// Adds what was typed.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let typed = form::read(&form);
    match context
        .act(move |db, actor, now| add_portfolio::add(db, actor, now, &typed))
        .await
    {
        Ok(_) => Ok(respond::redirect_saying("/buildings", "Portfolio added.")),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, form.0, errors))
        }
    }
}

fn page(context: &Context, request: &HttpRequest, fields: Fields, errors: Vec<FieldError>) -> Page {
    Page {
        chrome: Chrome::new(context, request, "Add a portfolio"),
        heading: "Add a portfolio",
        word: "Add the portfolio",
        fields,
        errors,
    }
}
