//! Copies a schedule as one of the office's own.

use actix_web::web;

use crate::actions::schedules;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Copies it and leads to the copy's form.
///
/// # Errors
/// When there is no such schedule.
pub async fn submit(context: Context, code: web::Path<String>, _form: Form) -> PageResult {
    let code = code.into_inner();
    let copy = context
        .act(move |db, actor, now| schedules::copy(db, actor, now, &code))
        .await?;
    Ok(respond::redirect_saying(
        &format!("/schedules/{copy}/edit"),
        "Copied, switched off. Change the copy, then switch it on.",
    ))
}
