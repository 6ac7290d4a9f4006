//! Sends a repair: parts, minutes, cost, note.

use actix_web::{HttpRequest, web};

use super::one;
use crate::actions::deficiencies::{Repaired, repaired};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Notes a repair.
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
    let text = |name: &str| typed.text(name).to_owned();
    let command = Repaired {
        deficiency: id,
        parts_used: text("parts_used"),
        minutes: text("minutes"),
        cost: text("cost"),
        note: text("repair_note"),
    };
    let done = context
        .act(move |db, actor, now| repaired(db, actor, now, &command))
        .await
        .map_err(|error| one::renamed(error, &[("note", "repair_note")]));
    let said = |()| "deficiency-repair-noted";
    one::answer(&context, &request, id, typed, done, said).await
}
