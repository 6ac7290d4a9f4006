//! The sign-in page.

use actix_web::HttpRequest;
use askama::Template;
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};

use crate::actions::people::hashing::Hasher;
use crate::actions::people::sign_in::{self, Attempt};
use crate::domain::register::password::Password;
use crate::error::{Error, FieldError};
use crate::language::Language;
use crate::web::chrome::Chrome;
use crate::web::context::{Visitor, off_worker};
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::{Mode, origin, respond, spoken};

/// A role of the demo: code, its word, and what one will see.
const ROLES: [(&str, &str, &str); 3] = [
    ("manager", "demo-manager", "demo-manager-sees"),
    ("technician", "demo-technician", "demo-technician-sees"),
    ("owner", "demo-owner", "demo-owner-sees"),
];

/// Another language to sign in in.
struct Offered {
    tag: &'static str,
    /// Address of this page in it.
    value: String,
    /// Its name in itself.
    label: String,
}

#[derive(Template)]
#[template(path = "pages/session/sign_in.html")]
struct SignIn {
    chrome: Chrome,
    email: String,
    next: String,
    roles: Vec<(&'static str, String, String)>,
    languages: Vec<Offered>,
    errors: Vec<FieldError>,
}

fn page(visitor: &Visitor, request: &HttpRequest, fields: &Fields, errors: Vec<FieldError>) -> SignIn {
    let roles: &[(&str, &str, &str)] = match visitor.app.settings.mode {
        Mode::Demo => &ROLES,
        Mode::Office => &[],
    };
    let next = respond::local_address(fields.text("next")).to_owned();
    SignIn {
        chrome: Chrome::of_visitor(visitor, request, &visitor.say("sign-in").to_string()).spoken(),
        email: fields.text("email").to_owned(),
        roles: roles
            .iter()
            .map(|&(code, word, sees)| (code, visitor.say(word).into(), visitor.say(sees).into()))
            .collect(),
        languages: others(visitor, &next),
        next,
        errors: visitor.language.errors(errors),
    }
}

/// The languages that the page is not in; to somebody signed in their own is spoken.
fn others(visitor: &Visitor, next: &str) -> Vec<Offered> {
    let next = utf8_percent_encode(next, NON_ALPHANUMERIC);
    Language::all()
        .filter(|other| visitor.session.is_none() && *other != visitor.language)
        .map(|other| Offered {
            tag: other.tag(),
            value: format!("/sign-in?language={other}&next={next}"),
            label: other.name(),
        })
        .collect()
}

/// Shows the form.
///
/// # Errors
/// When the template fails.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let mut fields = Fields::default();
    fields.set("next", asked.text("next"));
    let mut response = respond::page(&page(&visitor, &request, &fields, Vec::new()))?;
    if let Some(language) = spoken::chosen(&request) {
        response
            .add_cookie(&spoken::cookie(language))
            .map_err(Error::internal)?;
    }
    Ok(response)
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
