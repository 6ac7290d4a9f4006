//! Gives a turnover up.

use actix_web::{HttpRequest, web};

use super::page::{self, Asked};
use crate::actions::turnovers::{Cancel, cancel};
use crate::domain::register::TurnoverId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Cancels.
///
/// # Errors
/// When there is no such turnover that may be seen.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let command = Cancel {
        turnover: TurnoverId(*key),
        reason: fields.text("reason").to_owned(),
    };
    match context
        .act(move |db, actor, now| cancel(db, actor, now, &command))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            "/turnovers",
            &context.say("turnover-cancelled").to_string(),
        )),
        Err(error) => {
            let asked = Asked {
                cancels: true,
                ..Asked::default()
            };
            page::again(&context, &request, TurnoverId(*key), asked, (fields, error)).await
        }
    }
}
