//! Adds a public holiday or a shut-down period to a building.

use actix_web::{HttpRequest, web};

use super::{closing, show};
use crate::actions::calendars;
use crate::language;
use crate::store::buildings;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Adds it.
///
/// # Errors
/// When there is no such building.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let building = context
        .read(move |conn, actor| buildings::by_code(conn, &actor.scope, &code))
        .await?;
    let id = building.id;
    let text = closing::read(&form);
    let name = text.name.trim().to_owned();
    let done = context
        .act(move |db, actor, now| calendars::close(db, actor, now, id, &text))
        .await;
    match done {
        Ok(moved) => Ok(respond::redirect_saying(
            &super::home(&building),
            &format!("{name} added. {}", language::due_dates_moved(moved)),
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            show::page(&context, &request, building, (form.0, errors)).await
        }
    }
}
