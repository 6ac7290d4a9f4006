//! Closes a turnover with a signed name.

use actix_web::{HttpRequest, web};

use super::page::{self, Asked};
use crate::actions::turnovers::{Close, close};
use crate::domain::register::TurnoverId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Closes.
///
/// # Errors
/// When there is no such turnover that may be seen.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let command = Close {
        turnover: TurnoverId(*key),
        name: fields.text("name").to_owned(),
    };
    match context
        .act(move |db, actor, now| close(db, actor, now, &command))
        .await
    {
        Ok(paper) => Ok(respond::redirect_saying(
            &format!("/turnovers/{key}"),
            &context
                .say("turnover-closed")
                .with("number", paper.number)
                .to_string(),
        )),
        Err(error) => {
            page::again(
                &context,
                &request,
                TurnoverId(*key),
                Asked::default(),
                (fields, error),
            )
            .await
        }
    }
}
