//! Changes a portfolio.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::change_portfolio;
use crate::error::{Error, FieldError};
use crate::store::portfolios;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form with the portfolio as it is.
///
/// # Errors
/// When there is no such portfolio.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let facts = context
        .read(move |conn, _| portfolios::by_code(conn, &code))
        .await?
        .ok_or_else(|| Error::not_found("such portfolio"))?
        .facts;
    let fields = Fields::from_pairs(&[("code", &facts.code), ("name", &facts.name)]);
    respond::page(&page(&context, &request, fields, Vec::new()))
}

/// Changes the portfolio to what was typed.
///
/// # Errors
/// When there is no such portfolio.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let typed = form::read(&form);
    let id = context
        .read(move |conn, _| portfolios::by_code(conn, &code))
        .await?
        .ok_or_else(|| Error::not_found("such portfolio"))?
        .id;
    match context
        .act(move |db, actor, now| change_portfolio::change(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying("/buildings", "Portfolio changed.")),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, form.0, errors))
        }
    }
}

fn page(context: &Context, request: &HttpRequest, fields: Fields, errors: Vec<FieldError>) -> Page {
    Page {
        chrome: Chrome::new(context, request, "Change the portfolio"),
        heading: "Change the portfolio",
        word: "Save the portfolio",
        fields,
        errors,
    }
}
