//! Gives a place a new label.

use actix_web::web;

use super::home;
use crate::actions::labels;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Renews the label with this code.
///
/// # Errors
/// When no label that the person may see has it, or it was withdrawn before.
pub async fn submit(context: Context, code: web::Path<String>, _form: Form) -> PageResult {
    let (place, _) = context
        .act(move |db, actor, now| labels::renew(db, actor, now, &code))
        .await?;
    Ok(respond::redirect_saying(
        &home(&place.building_code, Some(place.unit)),
        &format!(
            "{} has a new label. Print it and take the old one off: its code leads nowhere now.",
            place.tag_label
        ),
    ))
}
