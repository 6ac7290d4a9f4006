//! Setting the numbers that the urgent page shows.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::contacts;
use crate::domain::code::Coded as _;
use crate::domain::trade::urgent::Contact;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/urgent/edit.html")]
struct Edit {
    chrome: Chrome,
    numbers: Vec<Number>,
    errors: Vec<FieldError>,
}

struct Number {
    code: &'static str,
    name: &'static str,
    typed: String,
}

fn shown(numbers: Vec<(Contact, String)>) -> Vec<Number> {
    let number = |(contact, typed): (Contact, String)| Number {
        code: contact.code(),
        name: contact.name(),
        typed,
    };
    numbers.into_iter().map(number).collect()
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let numbers = context.read(|conn, _| contacts::numbers(conn)).await?;
    respond::page(&Edit {
        chrome: Chrome::new(&context, &request, "Numbers to call"),
        numbers: shown(numbers),
        errors: Vec::new(),
    })
}

/// Sets the numbers.
///
/// # Errors
/// When the database refuses.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let typed: Vec<(Contact, String)> = Contact::ALL
        .iter()
        .map(|contact| (*contact, form.text(contact.code()).to_owned()))
        .collect();
    let sent = typed.clone();
    let done = context
        .act(move |db, actor, now| contacts::set(db, actor, now, &sent))
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying("/urgent", "Numbers set.")),
        Err(error) => respond::form_again(&Edit {
            chrome: Chrome::new(&context, &request, "Numbers to call"),
            numbers: shown(typed),
            errors: to_mend(error)?,
        }),
    }
}
