//! Offers a check to new schedules, or withdraws it.

use actix_web::web;

use crate::actions::checks;
use crate::error::Error;
use crate::store::checks::Offer;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Offers or withdraws it; `to` is `offered` or `withdrawn`.
///
/// # Errors
/// When there is no such check.
pub async fn submit(context: Context, code: web::Path<String>, form: Form) -> PageResult {
    let (code, to) = match form.text("to") {
        "offered" => (code.into_inner(), Offer::Open),
        "withdrawn" => (code.into_inner(), Offer::Withdrawn),
        _ => {
            return Err(Error::refused(
                "The form does not say whether to offer or to withdraw. Go back and press one of the two.",
            )
            .into());
        }
    };
    let address = format!("/checks/{code}");
    context
        .act(move |db, actor, now| checks::offer(db, actor, now, &code, to))
        .await?;
    let said = match to {
        Offer::Open => "Offered to schedules again.",
        Offer::Withdrawn => "Withdrawn. Schedules that ask for it go on; take it out of them there.",
    };
    Ok(respond::redirect_saying(&address, said))
}
