//! Issues a numbered copy.

use actix_web::web;

use super::asked_day;
use crate::actions::condition::issue;
use crate::error::Error;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Issues the copy and leads back to the building.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn submit(context: Context, code: web::Path<String>, form: Form) -> PageResult {
    let day = asked_day(&form).map_err(Error::Fields)?;
    let building = code.clone();
    let document = context
        .act(move |db, actor, now| issue::issue(db, actor, now, &code, day))
        .await?;
    Ok(respond::redirect_saying(
        &format!("/condition/{building}?as_of={}", document.as_of),
        &format!("Copy no. {} issued. It will not change.", document.number),
    ))
}
