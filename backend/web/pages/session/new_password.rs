//! Choosing another password through a link from a mail. Looking at it changes nothing.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::people::hashing::Hasher;
use crate::actions::people::{link, reset};
use crate::domain::register::Person;
use crate::error::{Error, FieldError};
use crate::language::Language;
use crate::store::tokens::LinkKind;
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

const OVER: &str = "new-password-over";

#[derive(Template)]
#[template(path = "pages/session/new_password.html")]
struct NewPassword {
    chrome: Chrome,
    email: String,
    errors: Vec<FieldError>,
}

fn page(visitor: &Visitor, request: &HttpRequest, person: Person, errors: Vec<FieldError>) -> NewPassword {
    let language = Language::of(person.facts.language.as_str());
    NewPassword {
        chrome: Chrome::of_visitor(visitor, request, &language.say("new-password").to_string())
            .spoken_in(language),
        email: person.facts.email,
        errors: language.errors(errors),
    }
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(visitor: Visitor, request: HttpRequest, token: web::Path<String>) -> PageResult {
    match waiting(&visitor, &token).await? {
        Some(person) => respond::page(&page(&visitor, &request, person, Vec::new())),
        None => super::link_over(&visitor, &request, OVER, ("/reset", "new-password-again")),
    }
}

/// Keeps the password; from then on only it opens the account.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(
    visitor: Visitor,
    request: HttpRequest,
    token: web::Path<String>,
    form: Form,
) -> PageResult {
    let Some(person) = waiting(&visitor, &token).await? else {
        return super::link_over(&visitor, &request, OVER, ("/reset", "new-password-again"));
    };
    let (db, now) = (visitor.app.db.clone(), visitor.now);
    let password = form.exact("password").to_owned();
    match off_worker(move || reset::take(&db, Hasher::shared(), now, &token, &password)).await {
        Ok(()) => Ok(respond::redirect_saying(
            "/sign-in",
            &visitor.say("new-password-kept").to_string(),
        )),
        Err(Error::Fields(errors)) => respond::form_again(&page(&visitor, &request, person, errors)),
        Err(Error::NotFound(_)) => {
            super::link_over(&visitor, &request, OVER, ("/reset", "new-password-again"))
        }
        Err(error) => Err(error.into()),
    }
}

async fn waiting(visitor: &Visitor, token: &str) -> Result<Option<Person>, Error> {
    let (now, token) = (visitor.now, token.to_owned());
    visitor
        .app
        .read(move |conn| link::look(conn, now, LinkKind::Reset, &token))
        .await
}
