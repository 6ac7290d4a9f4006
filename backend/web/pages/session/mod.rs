//! Signing in and out, and the one-time links that lead to a password.

pub mod demo;
pub mod invitation;
pub mod new_password;
pub mod reset;
pub mod set_up;
pub mod sign_in;
pub mod sign_out;

use actix_web::http::StatusCode;
use actix_web::{HttpRequest, HttpResponse};
use askama::Template;

use crate::actions::people::sign_in::Opened;
use crate::error::Error;
use crate::web::chrome::Chrome;
use crate::web::context::Visitor;
use crate::web::error::PageResult;
use crate::web::respond;

/// What is said where a one-time link does not open any more.
#[derive(Template)]
#[template(path = "pages/session/link_over.html")]
struct LinkOver {
    chrome: Chrome,
    sentence: String,
    way: &'static str,
    word: String,
}

/// `sentence` and the word of the way on are messages.
fn link_over(
    visitor: &Visitor,
    request: &HttpRequest,
    sentence: &'static str,
    (way, word): (&'static str, &'static str),
) -> PageResult {
    let page = LinkOver {
        chrome: Chrome::of_visitor(visitor, request, &visitor.say("link-over").to_string()).spoken(),
        sentence: visitor.say(sentence).into(),
        way,
        word: visitor.say(word).into(),
    };
    respond::page_with(StatusCode::NOT_FOUND, &page)
}

/// Leads on with the cookie of a new session.
fn signed_in(visitor: &Visitor, opened: &Opened, mut response: HttpResponse) -> PageResult {
    let cookie = respond::sign_in_cookie(&visitor.app, &opened.token, opened.lasts);
    response.add_cookie(&cookie).map_err(Error::internal)?;
    Ok(response)
}
