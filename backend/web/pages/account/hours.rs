//! One's own zone and the hour of the morning mail.

use actix_web::HttpRequest;

use super::show;
use crate::actions::people::account;
use crate::error::Error;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Keeps zone and hour.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let zone = form.text("time_zone").to_owned();
    let hour = form.text("digest_hour").to_owned();
    let kept = context
        .act(move |db, actor, now| account::set_hours(db, actor, now, &zone, &hour))
        .await;
    match kept {
        Ok(()) => Ok(respond::redirect_saying(
            "/account",
            &context.say("account-hours-kept").to_string(),
        )),
        Err(Error::Fields(errors)) => {
            respond::form_again(&show::page(&context, &request, Some((&form, errors))).await?)
        }
        Err(error) => Err(error.into()),
    }
}
