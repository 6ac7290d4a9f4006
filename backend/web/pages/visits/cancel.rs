//! Cancels a visit.

use actix_web::{HttpRequest, web};

use super::show;
use crate::actions::visits;
use crate::domain::register::VisitId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Cancels it.
///
/// # Errors
/// When there is no such visit that may be seen, or it is closed already.
pub async fn submit(context: Context, request: HttpRequest, id: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let visit = VisitId(*id);
    let reason = fields.text("cancel_reason").to_owned();
    let cancelled = context
        .act(move |db, actor, now| visits::cancel(db, actor, now, visit, &reason))
        .await;
    match cancelled.map_err(to_mend) {
        Ok(()) => Ok(respond::redirect_saying(
            "/visits",
            &context.say("visit-cancelled").to_string(),
        )),
        Err(Ok(errors)) => show::again(&context, &request, visit, fields, errors).await,
        Err(Err(other)) => Err(other.into()),
    }
}
