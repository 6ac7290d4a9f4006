//! In which language a request is answered: that of the person who is signed in; else the one that was chosen on the sign-in page, which
//! a cookie keeps; else what the browser would rather read; else English.

use actix_web::HttpRequest;
use actix_web::cookie::time::Duration;
use actix_web::cookie::{Cookie, SameSite};
use actix_web::http::header;

use super::form::Fields;
use crate::language::Language;
use crate::store::sessions::Session;

const COOKIE: &str = "language";

/// The language of the answer.
#[must_use]
pub fn of(request: &HttpRequest, session: Option<&Session>) -> Language {
    if let Some(session) = session {
        return Language::of(session.language.as_str());
    }
    chosen(request)
        .or_else(|| Language::known(request.cookie(COOKIE)?.value()))
        .or_else(|| {
            let header = request.headers().get(header::ACCEPT_LANGUAGE)?;
            Language::wished_for(header.to_str().ok()?)
        })
        .unwrap_or(Language::ENGLISH)
}

/// The language that the address itself asks for: `/sign-in?language=es`.
#[must_use]
pub fn chosen(request: &HttpRequest) -> Option<Language> {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    Language::known(asked.text("language"))
}

/// The cookie that keeps the choice until somebody is signed in, for a year.
#[must_use]
pub fn cookie(language: Language) -> Cookie<'static> {
    let mut cookie = Cookie::new(COOKIE, language.tag());
    cookie.set_path("/");
    cookie.set_http_only(true);
    cookie.set_same_site(SameSite::Lax);
    cookie.set_max_age(Duration::days(365));
    cookie
}
