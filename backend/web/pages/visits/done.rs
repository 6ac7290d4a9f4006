//! Closes a visit as done.

use actix_web::web;

use crate::actions::visits;
use crate::domain::register::VisitId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Closes it.
///
/// # Errors
/// When there is no such visit that may be seen, or it is closed already.
pub async fn submit(context: Context, id: web::Path<i64>, _form: Form) -> PageResult {
    let visit = VisitId(*id);
    context
        .act(move |db, actor, now| visits::done(db, actor, now, visit))
        .await?;
    Ok(respond::redirect_saying(
        &format!("/visits/{visit}"),
        &context.say("visit-done-kept").to_string(),
    ))
}
