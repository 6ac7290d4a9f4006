//! Replaces a part.

use actix_web::{HttpRequest, web};

use super::end::{self, Wording};
use crate::actions::register::replace_part;
use crate::domain::register::PartId;
use crate::store::parts;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

const WORDING: Wording = Wording {
    heading: "part-replace-of",
    lead: "part-replace-lead",
    word: "part-replace",
};

/// Shows the form.
///
/// # Errors
/// When there is no such part.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let blank = (Fields::default(), Vec::new());
    respond::page(&end::page(&context, &request, PartId(*key), WORDING, blank).await?)
}

/// Replaces a part.
///
/// # Errors
/// When there is no such part.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let (id, on) = (PartId(*key), form.text("on").to_owned());
    let (_, part) = context
        .read(move |conn, actor| parts::by_key(conn, &actor.scope, id))
        .await?;
    match context
        .act(move |db, actor, now| replace_part::replace(db, actor, now, id, &on))
        .await
    {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/fixtures/{}#parts", part.fixture),
            &context.say("part-replaced").to_string(),
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            respond::form_again(&end::page(&context, &request, id, WORDING, again).await?)
        }
    }
}
