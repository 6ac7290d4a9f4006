//! Changing one's own password; every other session ends with the earlier one.

use actix_web::HttpRequest;

use super::show;
use crate::actions::people::account::{self, NewPassword};
use crate::actions::people::hashing::Hasher;
use crate::error::Error;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::{origin, respond};

/// Keeps another password.
///
/// # Errors
/// When it was tried too often, or the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let (session, origin) = (context.session.id, origin::of(&request));
    let current = form.exact("current").to_owned();
    let chosen = form.exact("password").to_owned();
    let changed = context
        .act(move |db, actor, now| {
            let command = NewPassword {
                session,
                current: &current,
                chosen: &chosen,
                origin,
            };
            account::change_password(db, Hasher::shared(), actor, now, &command)
        })
        .await;
    match changed {
        Ok(()) => Ok(respond::redirect_saying(
            "/account",
            &context.say("account-password-kept").to_string(),
        )),
        Err(Error::Fields(errors)) => {
            respond::form_again(&show::page(&context, &request, Some((&form, errors))).await?)
        }
        Err(error) => Err(error.into()),
    }
}
