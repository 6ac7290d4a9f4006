//! Brings a turnover to its next stage.

use actix_web::{HttpRequest, web};

use super::page::{self, Asked};
use crate::actions::turnovers::{Advance, advance};
use crate::domain::code::Coded as _;
use crate::domain::register::TurnoverId;
use crate::domain::turnover::Stage;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Takes the step that the form names.
///
/// # Errors
/// When there is no such turnover that may be seen.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let command = Advance {
        turnover: TurnoverId(*key),
        to: Stage::from_code(form.text("to")).ok(),
    };
    match context
        .act(move |db, actor, now| advance(db, actor, now, command))
        .await
    {
        Ok(stage) => Ok(respond::redirect_saying(
            &format!("/turnovers/{key}"),
            &context
                .say("turnover-stage-now")
                .with("stage", stage.code())
                .to_string(),
        )),
        Err(error) => {
            let fields = crate::web::form::Fields::default();
            page::again(
                &context,
                &request,
                command.turnover,
                Asked::default(),
                (fields, error),
            )
            .await
        }
    }
}
