//! The sign-in page.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::people::hashing::Hasher;
use crate::actions::people::sign_in::{self, Attempt};
use crate::domain::register::password::Password;
use crate::error::{Error, FieldError};
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::{Mode, origin, respond};

/// A role of the demo: code, word, and what one will see.
const ROLES: [(&str, &str, &str); 3] = [
    (
        "manager",
        "The property manager",
        "You see every building: what is overdue, turnovers, schedules, people.",
    ),
    (
        "technician",
        "A maintenance technician",
        "You see what is due in the units of your buildings, and record it on a phone.",
    ),
    (
        "owner",
        "An owner",
        "You see the condition of the buildings of your portfolio, also as a CSV.",
    ),
];

#[derive(Template)]
#[template(path = "pages/session/sign_in.html")]
struct SignIn {
    chrome: Chrome,
    email: String,
    next: String,
    roles: &'static [(&'static str, &'static str, &'static str)],
    errors: Vec<FieldError>,
}

fn page(visitor: &Visitor, request: &HttpRequest, fields: &Fields, errors: Vec<FieldError>) -> SignIn {
    SignIn {
        chrome: Chrome::of_visitor(visitor, request, "Sign in"),
        email: fields.text("email").to_owned(),
        next: respond::local_address(fields.text("next")).to_owned(),
        roles: match visitor.app.settings.mode {
            Mode::Demo => &ROLES,
            Mode::Office => &[],
        },
        errors,
    }
}

/// Shows the form.
///
/// # Errors
/// When the template fails.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let mut fields = Fields::default();
    fields.set("next", asked.text("next"));
    respond::page(&page(&visitor, &request, &fields, Vec::new()))
}

/// Signs in, or says that address and password do not belong together.
///
/// # Errors
/// When it was tried too often, or the database does not answer.
pub async fn submit(visitor: Visitor, request: HttpRequest, form: Form) -> PageResult {
    let mut errors = Vec::new();
    form.required("email", "Mail address", &mut errors);
    if form.exact("password").is_empty() {
        errors.push(FieldError::new("password", "Password: fill this in."));
    }
    if !errors.is_empty() {
        return respond::form_again(&page(&visitor, &request, &form, errors));
    }
    let attempt = Attempt {
        email: form.text("email").to_owned(),
        password: Password::given(form.exact("password")),
        origin: origin::of(&request),
        agent: origin::agent(&request),
        replaces: visitor.session.as_ref().map(|session| session.id),
    };
    let (db, now) = (visitor.app.db.clone(), visitor.now);
    match off_worker(move || sign_in::with_password(&db, Hasher::shared(), now, &attempt)).await {
        Ok(opened) => {
            let next = respond::redirect(respond::local_address(form.text("next")));
            super::signed_in(&visitor, &opened, next)
        }
        Err(Error::Fields(errors)) => respond::form_again(&page(&visitor, &request, &form, errors)),
        Err(error) => Err(error.into()),
    }
}
