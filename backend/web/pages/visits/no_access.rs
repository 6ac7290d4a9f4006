//! Closes a visit on which nobody got in.

use actix_web::{HttpRequest, web};

use super::show;
use crate::actions::visits::{self, NoAccess};
use crate::domain::register::VisitId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Closes it, with the reason.
///
/// # Errors
/// When there is no such visit that may be seen, or it is closed already.
pub async fn submit(context: Context, request: HttpRequest, id: web::Path<i64>, form: Form) -> PageResult {
    let Form(fields) = form;
    let visit = VisitId(*id);
    let command = NoAccess {
        offered: fields.text("no_access_reason").to_owned(),
        text: fields.text("no_access_text").to_owned(),
    };
    let closed = context
        .act(move |db, actor, now| visits::no_access(db, actor, now, visit, &command))
        .await;
    match closed.map_err(to_mend) {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/visits/{visit}"),
            &context.say("visit-no-access-kept").to_string(),
        )),
        Err(Ok(errors)) => show::again(&context, &request, visit, fields, errors).await,
        Err(Err(other)) => Err(other.into()),
    }
}
