//! Sends a remark.

use actix_web::{HttpRequest, web};

use super::one;
use crate::actions::deficiencies::{Note, note};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Adds a remark.
///
/// # Errors
/// When there is no such deficiency that may be seen.
pub async fn submit(
    context: Context,
    deficiency: web::Path<i64>,
    request: HttpRequest,
    form: Form,
) -> PageResult {
    let id = one::number(&deficiency);
    let Form(typed) = form;
    let command = Note {
        deficiency: id,
        note: typed.text("note").to_owned(),
    };
    let done = context
        .act(move |db, actor, now| note(db, actor, now, &command))
        .await;
    one::answer(&context, &request, id, typed, done, |()| "deficiency-note-added").await
}
