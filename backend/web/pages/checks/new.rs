//! Adds a check of the office's own.

use actix_web::HttpRequest;

use super::form;
use crate::actions::checks;
use crate::domain::trade::CheckText;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Shows an empty form.
///
/// # Errors
/// When the template fails.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let text = CheckText {
        answer: "verdict".to_owned(),
        severity: "moderate".to_owned(),
        group: "look".to_owned(),
        performer: "staff".to_owned(),
        ..CheckText::default()
    };
    form::show(&context, &request, None, text, Vec::new())
}

/// Adds it.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let text = form::text(&form);
    let asked = text.clone();
    let added = context
        .act(move |db, actor, now| checks::add(db, actor, now, &asked))
        .await;
    match added.map_err(to_mend) {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/checks/{}", text.code.trim()),
            "Check added. It comes due once a schedule asks for it.",
        )),
        Err(Ok(errors)) => form::show(&context, &request, None, text, errors),
        Err(Err(other)) => Err(other.into()),
    }
}
