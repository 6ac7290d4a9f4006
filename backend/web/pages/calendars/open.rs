//! Takes a public holiday or a shut-down period away from a building.

use actix_web::web;

use super::closing;
use crate::actions::calendars;
use crate::language;
use crate::store::buildings;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Takes it away.
///
/// # Errors
/// When there is no such building, or it has no such closed days.
pub async fn submit(context: Context, path: web::Path<(String, String)>, _form: Form) -> PageResult {
    let (code, closing) = path.into_inner();
    let building = context
        .read(move |conn, actor| buildings::by_code(conn, &actor.scope, &code))
        .await?;
    let id = building.id;
    let closing = closing::key(&closing)?;
    let moved = context
        .act(move |db, actor, now| calendars::open(db, actor, now, id, closing))
        .await?;
    Ok(respond::redirect_saying(
        &super::home(&building),
        &format!("Taken away. {}", language::due_dates_moved(moved)),
    ))
}
