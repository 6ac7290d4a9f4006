//! The sign-in page.

use actix_web::HttpRequest;
use askama::Template;

use crate::error::FieldError;
use crate::web::Mode;
use crate::web::chrome::Chrome;
use crate::web::context::Visitor;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/session/sign_in.html")]
struct SignIn {
    chrome: Chrome,
    email: String,
    next: String,
    offers_roles: bool,
    errors: Vec<FieldError>,
}

/// Shows the form.
///
/// # Errors
/// When the template fails.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    respond::page(&SignIn {
        chrome: Chrome::of_visitor(&visitor, &request, "Sign in"),
        email: String::new(),
        next: respond::local_address(asked.text("next")).to_owned(),
        offers_roles: visitor.app.settings.mode == Mode::Demo,
        errors: Vec::new(),
    })
}
