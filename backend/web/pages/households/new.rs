//! Adds the household that moves into a unit.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::add_household;
use crate::domain::register::UnitId;
use crate::store::units;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form.
///
/// # Errors
/// When there is no such unit.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let (building, unit) = context
        .read(move |conn, actor| units::by_key(conn, &actor.scope, UnitId(*key)))
        .await?;
    let blank = (Fields::default(), Vec::new());
    respond::page(&Page::new(&context, &request, (&building, &unit), None, blank))
}

/// Adds what was typed.
///
/// # Errors
/// When there is no such unit.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = UnitId(*key);
    let (building, unit) = context
        .read(move |conn, actor| units::by_key(conn, &actor.scope, id))
        .await?;
    let typed = form::read(&form);
    match context
        .act(move |db, actor, now| add_household::add(db, actor, now, id, &typed))
        .await
    {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/units/{id}"),
            "Household added.",
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            respond::form_again(&Page::new(&context, &request, (&building, &unit), None, again))
        }
    }
}
