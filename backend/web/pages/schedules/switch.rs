//! Switches a schedule on or off.

use actix_web::web;

use crate::actions::schedules::{self, Switch};
use crate::error::{Error, Result};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::respond;

/// Switches it.
///
/// # Errors
/// When there is no such schedule.
pub async fn submit(context: Context, code: web::Path<String>, form: Form) -> PageResult {
    let (code, to) = (code.into_inner(), asked(&form)?);
    let address = format!("/schedules/{code}");
    context
        .act(move |db, actor, now| schedules::switch(db, actor, now, &code, to))
        .await?;
    let said = match to {
        Switch::On => "Switched on. What it asks for is on the due list.",
        Switch::Off => "Switched off. Its results stay.",
    };
    Ok(respond::redirect_saying(&address, said))
}

/// What the form says: `to` is `on` or `off`.
pub(super) fn asked(fields: &Fields) -> Result<Switch> {
    match fields.text("to") {
        "on" => Ok(Switch::On),
        "off" => Ok(Switch::Off),
        _ => Err(Error::refused(
            "The form does not say on or off. Go back and press one of the two.",
        )),
    }
}
