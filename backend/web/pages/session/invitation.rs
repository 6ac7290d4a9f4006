//! An invitation: shows whose it is, and takes it when they chose a password. Looking at it changes nothing.

use actix_web::{HttpRequest, web};
use askama::Template;

use crate::actions::people::hashing::Hasher;
use crate::actions::people::{invite, link};
use crate::domain::register::Person;
use crate::error::{Error, FieldError};
use crate::language::Language;
use crate::store::tokens::LinkKind;
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::{origin, respond};

const OVER: &str = "invitation-over";

#[derive(Template)]
#[template(path = "pages/session/invitation.html")]
struct Invitation {
    chrome: Chrome,
    name: String,
    email: String,
    errors: Vec<FieldError>,
}

fn page(visitor: &Visitor, request: &HttpRequest, person: Person, errors: Vec<FieldError>) -> Invitation {
    let language = Language::of(person.facts.language.as_str());
    Invitation {
        chrome: Chrome::of_visitor(visitor, request, &language.say("invitation").to_string())
            .spoken_in(language),
        name: person.facts.name,
        email: person.facts.email,
        errors: language.errors(errors),
    }
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(visitor: Visitor, request: HttpRequest, token: web::Path<String>) -> PageResult {
    match invited(&visitor, &token).await? {
        Some(person) => respond::page(&page(&visitor, &request, person, Vec::new())),
        None => super::link_over(&visitor, &request, OVER, ("/sign-in", "sign-in")),
    }
}

/// Takes the invitation and signs the person in.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(
    visitor: Visitor,
    request: HttpRequest,
    token: web::Path<String>,
    form: Form,
) -> PageResult {
    let Some(person) = invited(&visitor, &token).await? else {
        return super::link_over(&visitor, &request, OVER, ("/sign-in", "sign-in"));
    };
    let (db, now, agent) = (visitor.app.db.clone(), visitor.now, origin::agent(&request));
    let password = form.exact("password").to_owned();
    let welcome = Language::of(person.facts.language.as_str())
        .say("invitation-taken")
        .to_string();
    let taken = off_worker(move || invite::take(&db, Hasher::shared(), now, &token, &password, &agent)).await;
    match taken {
        Ok(opened) => super::signed_in(&visitor, &opened, respond::redirect_saying("/", &welcome)),
        Err(Error::Fields(errors)) => respond::form_again(&page(&visitor, &request, person, errors)),
        Err(Error::NotFound(_)) => super::link_over(&visitor, &request, OVER, ("/sign-in", "sign-in")),
        Err(error) => Err(error.into()),
    }
}

async fn invited(visitor: &Visitor, token: &str) -> Result<Option<Person>, Error> {
    let (now, token) = (visitor.now, token.to_owned());
    visitor
        .app
        .read(move |conn| link::look(conn, now, LinkKind::Invite, &token))
        .await
}
