//! Switches every schedule of a pack on or off, after showing what that means.

use actix_web::{HttpRequest, web};

use super::switch::{self, word};
use crate::actions::schedules;
use crate::domain::code::Coded as _;
use crate::domain::trade::catalogue::Pack;
use crate::error::Error;
use crate::language;
use crate::store;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Shows what switching means; switches once that is confirmed.
///
/// # Errors
/// When there is no such pack.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let pack = Pack::from_code(&code).map_err(|_unknown| Error::not_found("such pack"))?;
    let to = switch::asked(&form)?;
    if !form.has("confirmed") {
        let all = context.read(|conn, _| store::schedules::load_all(conn)).await?;
        let of_pack: Vec<_> = all
            .into_iter()
            .filter(|schedule| schedule.terms.pack == Some(pack))
            .collect();
        let title = format!("Switch {} {}?", pack.name(), word(to));
        return switch::confirm(&context, &request, &of_pack, to, (title, "/schedules".to_owned())).await;
    }
    let changed = context
        .act(move |db, actor, now| schedules::switch_pack(db, actor, now, pack, to))
        .await?;
    let count = language::count(changed, "schedule", "schedules");
    let said = format!("{}: {count} switched {}.", pack.name(), word(to));
    Ok(respond::redirect_saying("/schedules", &said))
}
