//! Sets the working days of a building.

use actix_web::{HttpRequest, web};

use super::show;
use crate::actions::calendars::set_week;
use crate::language;
use crate::store::buildings;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Sets them.
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
    let days: Vec<String> = form.all("working_days").map(str::to_owned).collect();
    let done = context
        .act(move |db, actor, now| set_week(db, actor, now, id, &days))
        .await;
    match done {
        Ok(moved) => Ok(respond::redirect_saying(
            &super::home(&building),
            &format!("Working days set. {}", language::due_dates_moved(moved)),
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            show::page(&context, &request, building, (form.0, errors)).await
        }
    }
}
