//! Copies a check as one of the office's own.

use actix_web::{HttpRequest, web};

use super::show;
use crate::actions::checks;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Copies it under the code that was typed, and leads to the copy's form.
///
/// # Errors
/// When there is no such check.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let (code, new_code) = (code.into_inner(), form.text("code").to_owned());
    let (of, to) = (code.clone(), new_code.clone());
    let copied = context
        .act(move |db, actor, now| checks::copy(db, actor, now, &of, &to))
        .await;
    match copied.map_err(to_mend) {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/checks/{new_code}/edit"),
            "Copied. Change the copy, then let a schedule ask for it.",
        )),
        Err(Ok(errors)) => show::again(&context, &request, code, new_code, errors).await,
        Err(Err(other)) => Err(other.into()),
    }
}
