//! The office's prices behind a choice: an hour of work, an entry, a failure. A manager's page.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::water::office::{PRICES, prices, set_prices};
use crate::domain::result::money;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/water/prices.html")]
struct PricesPage {
    chrome: Chrome,
    prices: Vec<Price>,
    errors: Vec<FieldError>,
}

struct Price {
    name: &'static str,
    label: &'static str,
    value: String,
    hint: &'static str,
}

/// Shows the prices.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let kept = context.read(|conn, _| prices(conn)).await?;
    let mut fields = Fields::default();
    for (name, minor) in [
        ("hour", kept.hour_minor),
        ("entry", kept.entry_minor),
        ("failure", kept.failure_minor),
    ] {
        fields.set(name, minor.map_or_else(String::new, money::text));
    }
    respond::page(&page(&context, &request, &fields, Vec::new()))
}

/// Sets the prices.
///
/// # Errors
/// For anybody but a manager.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let typed: Vec<(&str, String)> = PRICES
        .iter()
        .map(|(name, ..)| (*name, fields.text(name).to_owned()))
        .collect();
    let done = context
        .act(move |db, actor, now| set_prices(db, actor, now, &typed))
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying("/deficiencies/prices", "Prices set.")),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, &fields, errors))
        }
    }
}

fn page(context: &Context, request: &HttpRequest, fields: &Fields, errors: Vec<FieldError>) -> PricesPage {
    PricesPage {
        chrome: Chrome::new(context, request, "Prices behind a choice"),
        prices: PRICES
            .iter()
            .map(|&(name, label, hint)| Price {
                name,
                label,
                value: fields.text(name).to_owned(),
                hint,
            })
            .collect(),
        errors,
    }
}
