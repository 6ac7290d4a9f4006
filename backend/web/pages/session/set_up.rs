//! The first set-up: whoever has the link that the server printed becomes the first manager.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::people::hashing::Hasher;
use crate::actions::people::set_up;
use crate::domain::register::PersonText;
use crate::error::{Error, FieldError};
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::{origin, respond};

const OVER: &str = "set-up-over";

#[derive(Template)]
#[template(path = "pages/session/set_up.html")]
struct SetUp {
    chrome: Chrome,
    typed: PersonText,
    errors: Vec<FieldError>,
}

fn page(visitor: &Visitor, request: &HttpRequest, typed: PersonText, errors: Vec<FieldError>) -> SetUp {
    SetUp {
        chrome: Chrome::of_visitor(visitor, request, "First set-up"),
        typed,
        errors,
    }
}

fn typed(form: &Fields) -> PersonText {
    PersonText {
        name: form.text("name").to_owned(),
        email: form.text("email").to_owned(),
        time_zone: form.text("time_zone").to_owned(),
        digest_hour: String::new(),
        language: String::new(),
    }
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(visitor: Visitor, request: HttpRequest, token: web::Path<String>) -> PageResult {
    let now = visitor.now;
    let open = visitor
        .app
        .read(move |conn| set_up::is_open(conn, now, &token))
        .await?;
    if !open {
        return super::link_over(&visitor, &request, OVER, ("/sign-in", "sign-in"));
    }
    respond::page(&page(&visitor, &request, PersonText::default(), Vec::new()))
}

/// Makes the first manager and signs them in.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(
    visitor: Visitor,
    request: HttpRequest,
    token: web::Path<String>,
    form: Form,
) -> PageResult {
    let (db, now, agent) = (visitor.app.db.clone(), visitor.now, origin::agent(&request));
    let (person, password) = (typed(&form), form.exact("password").to_owned());
    let taken =
        off_worker(move || set_up::take(&db, Hasher::shared(), now, &token, &person, &password, &agent))
            .await;
    match taken {
        Ok(opened) => {
            let on = respond::redirect_saying("/", "You are the first manager.");
            super::signed_in(&visitor, &opened, on)
        }
        Err(Error::Fields(errors)) => respond::form_again(&page(&visitor, &request, typed(&form), errors)),
        Err(Error::NotFound(_)) => super::link_over(&visitor, &request, OVER, ("/sign-in", "sign-in")),
        Err(error) => Err(error.into()),
    }
}
