//! The language that one reads, in pages and mails.

use actix_web::HttpRequest;

use super::show;
use crate::actions::people::account;
use crate::error::Error;
use crate::language::Language;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

/// Keeps the language; what is said of it is said in it.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let chosen = form.text("language").to_owned();
    if chosen.is_empty() {
        let errors = vec![crate::error::FieldError::new(
            "language",
            "Language: fill this in.",
        )];
        return respond::form_again(&show::page(&context, &request, Some((&form, errors))).await?);
    }
    let tag = chosen.clone();
    let kept = context
        .act(move |db, actor, now| account::set_language(db, actor, now, &tag))
        .await;
    match kept {
        Ok(()) => {
            let done = Language::of(&chosen).say("account-language-kept").to_string();
            Ok(respond::redirect_saying("/account", &done))
        }
        Err(Error::Fields(errors)) => {
            respond::form_again(&show::page(&context, &request, Some((&form, errors))).await?)
        }
        Err(error) => Err(error.into()),
    }
}
