//! Notes the day a household moves out.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::move_out;
use crate::domain::register::HouseholdId;
use crate::store::households;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Notes the move-out.
///
/// # Errors
/// When there is no such household.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = HouseholdId(*key);
    let (building, unit, household) = context
        .read(move |conn, actor| households::by_key(conn, &actor.scope, id))
        .await?;
    let out = form.text("moved_out_on").to_owned();
    let typed = out.clone();
    match context
        .act(move |db, actor, now| move_out::leave(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/units/{}", unit.id),
            "Move-out noted.",
        )),
        Err(error) => {
            let mut fields = form::fields_of(&household);
            fields.set("moved_out_on", out);
            let (place, again) = ((&building, &unit), (fields, to_mend(error)?));
            respond::form_again(&Page::new(&context, &request, place, Some(&household), again))
        }
    }
}
