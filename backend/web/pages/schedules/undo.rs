//! Undoes the last change of a schedule by one click.

use actix_web::web;

use crate::actions::schedules;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Undoes it.
///
/// # Errors
/// When there is no such schedule, it was never changed, or somebody changed it meanwhile.
pub async fn submit(context: Context, code: web::Path<String>, form: Form) -> PageResult {
    let code = code.into_inner();
    let version = form.text("version").parse().unwrap_or(0);
    let code = context
        .act(move |db, actor, now| schedules::undo(db, actor, now, &code, version))
        .await?;
    // Of the first version nothing but the adding can have been undone.
    let said = if version == 1 {
        "Undone: it is off and asks for nothing. The due list follows it."
    } else {
        "Undone: it says what it said before. The due list follows it."
    };
    Ok(respond::redirect_saying(&format!("/schedules/{code}"), said))
}
