//! Waives a severe deficiency until a day.

use actix_web::{HttpRequest, web};

use super::page::{self, Asked};
use crate::actions::turnovers::{Waive, waive};
use crate::domain::register::{DeficiencyId, TurnoverId};
use crate::domain::turnover::WaiverText;
use crate::error::Error;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Waives.
///
/// # Errors
/// When there is no such turnover or deficiency that may be seen, or the person is no manager.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let number: i64 = fields
        .text("deficiency")
        .parse()
        .map_err(|_no_number| Error::not_found("such deficiency in this unit"))?;
    let command = Waive {
        turnover: TurnoverId(*key),
        deficiency: DeficiencyId(number),
        text: WaiverText {
            reason: fields.text("reason").to_owned(),
            name: fields.text("name").to_owned(),
            until: fields.text("until").to_owned(),
        },
    };
    match context
        .act(move |db, actor, now| waive(db, actor, now, &command))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/turnovers/{key}"),
            &context
                .say("turnover-is-waived")
                .with("number", number)
                .to_string(),
        )),
        Err(error) => {
            let asked = Asked {
                waive: Some(number),
                ..Asked::default()
            };
            page::again(&context, &request, TurnoverId(*key), asked, (fields, error)).await
        }
    }
}
