//! Asking for a mail with a link to a new password. The answer is the same whether or not the address is known.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::people::reset;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::{origin, respond};

#[derive(Template)]
#[template(path = "pages/session/reset.html")]
struct Reset {
    chrome: Chrome,
    errors: Vec<FieldError>,
}

#[derive(Template)]
#[template(path = "pages/session/reset_asked.html")]
struct Asked {
    chrome: Chrome,
}

/// Shows the form.
///
/// # Errors
/// When the template fails.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    respond::page(&Reset {
        chrome: Chrome::of_visitor(&visitor, &request, &visitor.say("new-password").to_string()).spoken(),
        errors: Vec::new(),
    })
}

/// Writes the mail, when the address is known, and says what happens then.
///
/// # Errors
/// When too many were asked for, or the database does not answer.
pub async fn submit(visitor: Visitor, request: HttpRequest, form: Form) -> PageResult {
    if form.text("email").is_empty() {
        return respond::form_again(&Reset {
            chrome: Chrome::of_visitor(&visitor, &request, &visitor.say("new-password").to_string()).spoken(),
            errors: vec![FieldError::new(
                "email",
                visitor.language.sentence("Mail address is empty. Fill it in."),
            )],
        });
    }
    let (db, now, origin) = (visitor.app.db.clone(), visitor.now, origin::of(&request));
    let public_url = visitor.app.settings.public_url.clone();
    let email = form.text("email").to_owned();
    off_worker(move || reset::request(&db, now, &public_url, &email, origin)).await?;
    respond::page(&Asked {
        chrome: Chrome::of_visitor(&visitor, &request, &visitor.say("reset-asked").to_string()).spoken(),
    })
}
