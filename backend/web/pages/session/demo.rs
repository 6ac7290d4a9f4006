//! Sign-in by one click, in a demo alone.

use actix_web::{HttpRequest, web};

use crate::actions::people::sign_in;
use crate::domain::code::Coded;
use crate::domain::register::person::Role;
use crate::error::Error;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::{Mode, origin, respond};

/// Signs in as the first person of a role.
///
/// # Errors
/// When this is no demo, or it has nobody of the role.
pub async fn submit(
    visitor: Visitor,
    role: web::Path<String>,
    request: HttpRequest,
    form: Form,
) -> PageResult {
    if visitor.app.settings.mode != Mode::Demo {
        return Err(Error::not_found("such page").into());
    }
    let role = Role::from_code(&role).map_err(|_sentence| Error::not_found("such role"))?;
    let agent = origin::agent(&request);
    let earlier = visitor.session.as_ref().map(|session| session.id);
    let (db, now) = (visitor.app.db.clone(), visitor.now);
    let opened = off_worker(move || sign_in::as_first_of(&db, now, role, &agent, earlier)).await?;
    let next = respond::redirect(respond::local_address(form.text("next")));
    super::signed_in(&visitor, &opened, next)
}
