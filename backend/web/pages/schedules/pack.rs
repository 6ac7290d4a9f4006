//! Switches every schedule of a pack on or off.

use actix_web::web;

use super::switch;
use crate::actions::schedules::{self, Switch};
use crate::domain::code::Coded as _;
use crate::domain::trade::catalogue::Pack;
use crate::error::Error;
use crate::language;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Switches it.
///
/// # Errors
/// When there is no such pack.
pub async fn submit(context: Context, code: web::Path<String>, form: Form) -> PageResult {
    let pack = Pack::from_code(&code).map_err(|_unknown| Error::not_found("such pack"))?;
    let to = switch::asked(&form)?;
    let changed = context
        .act(move |db, actor, now| schedules::switch_pack(db, actor, now, pack, to))
        .await?;
    let word = if to == Switch::On { "on" } else { "off" };
    let count = language::count(changed, "schedule", "schedules");
    let said = format!("{}: {count} switched {word}.", pack.name());
    Ok(respond::redirect_saying("/schedules", &said))
}
