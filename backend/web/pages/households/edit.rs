//! Changes what is known of a household.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::change_household;
use crate::domain::register::HouseholdId;
use crate::store::households;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Shows the form with the household as it is.
///
/// # Errors
/// When there is no such household.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let (building, unit, household) = context
        .read(move |conn, actor| households::by_key(conn, &actor.scope, HouseholdId(*key)))
        .await?;
    let (place, now) = ((&building, &unit), (form::fields_of(&household), Vec::new()));
    respond::page(&Page::new(&context, &request, place, Some(&household), now))
}

/// Changes the household to what was typed.
///
/// # Errors
/// When there is no such household.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = HouseholdId(*key);
    let (building, unit, household) = context
        .read(move |conn, actor| households::by_key(conn, &actor.scope, id))
        .await?;
    let typed = form::read(&form);
    match context
        .act(move |db, actor, now| change_household::change(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/units/{}", unit.id),
            "Household changed.",
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            let place = (&building, &unit);
            respond::form_again(&Page::new(&context, &request, place, Some(&household), again))
        }
    }
}
