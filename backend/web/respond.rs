//! Answers: a page, a redirect with a word of what was done, a file.

use actix_web::cookie::time::Duration;
use actix_web::cookie::{Cookie, SameSite};
use actix_web::http::{StatusCode, Uri, header};
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse};
use askama::Template;
use futures_util::{Stream, TryStreamExt};
use percent_encoding::{NON_ALPHANUMERIC, percent_decode_str, utf8_percent_encode};

use super::error::PageResult;
use super::{App, Settings};
use crate::error::Error;

const FLASH: &str = "done";

/// Bytes that are read from a spooled file at once.
const PIECE_BYTES: usize = 64 * 1024;

/// The name of the session's cookie.
#[must_use]
pub fn session_cookie(settings: &Settings) -> &'static str {
    if settings.is_https() {
        "__Host-session"
    } else {
        "session"
    }
}

/// A page.
///
/// # Errors
/// When the template fails.
pub fn page(template: &impl Template) -> PageResult {
    page_with(StatusCode::OK, template)
}

/// A form shown again with what to mend: the page with status 422.
///
/// # Errors
/// When the template fails.
pub fn form_again(template: &impl Template) -> PageResult {
    page_with(StatusCode::UNPROCESSABLE_ENTITY, template)
}

/// A page with another status than 200.
///
/// # Errors
/// When the template fails.
pub fn page_with(status: StatusCode, template: &impl Template) -> PageResult {
    let body = template.render().map_err(Error::internal)?;
    let mut response = HttpResponse::build(status);
    response.content_type("text/html; charset=utf-8");
    // What was just done is said once.
    let mut spent = Cookie::new(FLASH, "");
    spent.set_path("/");
    spent.set_max_age(Duration::ZERO);
    response.cookie(spent);
    Ok(response.body(body))
}

/// To another page.
#[must_use]
pub fn redirect(to: &str) -> HttpResponse {
    HttpResponse::SeeOther()
        .insert_header((header::LOCATION, to))
        .finish()
}

/// To another page, which says once what was done.
#[must_use]
pub fn redirect_saying(to: &str, done: &str) -> HttpResponse {
    let mut cookie = Cookie::new(FLASH, utf8_percent_encode(done, NON_ALPHANUMERIC).to_string());
    cookie.set_path("/");
    cookie.set_http_only(true);
    cookie.set_same_site(SameSite::Lax);
    cookie.set_max_age(Duration::minutes(1));
    HttpResponse::SeeOther()
        .insert_header((header::LOCATION, to))
        .cookie(cookie)
        .finish()
}

/// What was just done, from the redirect before.
#[must_use]
pub fn flash_of(request: &HttpRequest) -> Option<String> {
    let cookie = request.cookie(FLASH)?;
    let text = percent_decode_str(cookie.value())
        .decode_utf8()
        .ok()?
        .into_owned();
    (!text.is_empty()).then_some(text)
}

/// To the sign-in page, and from there back to `wanted`.
#[must_use]
pub fn to_sign_in(wanted: &Uri) -> HttpResponse {
    let next = wanted.path_and_query().map_or("/", |path| path.as_str());
    if next == "/" {
        return redirect("/sign-in");
    }
    redirect(&format!(
        "/sign-in?next={}",
        utf8_percent_encode(next, NON_ALPHANUMERIC)
    ))
}

/// Where to go after sign-in: an address of this site, or the start page. Browsers drop tabs and line ends from an address and
/// take a backslash for a slash, so that either could turn the rest into another site's name.
#[must_use]
pub fn local_address(next: &str) -> &str {
    let local = next.starts_with('/')
        && !next.starts_with("//")
        && !next.contains(|c: char| c == '\\' || c.is_control());
    if local { next } else { "/" }
}

/// The cookie of a new session.
#[must_use]
pub fn sign_in_cookie(app: &App, token: &str, lasts: chrono::TimeDelta) -> Cookie<'static> {
    let mut cookie = Cookie::new(session_cookie(&app.settings), token.to_owned());
    cookie.set_path("/");
    cookie.set_http_only(true);
    cookie.set_same_site(SameSite::Lax);
    cookie.set_secure(app.settings.is_https());
    cookie.set_max_age(Duration::seconds(lasts.num_seconds()));
    cookie
}

/// The cookie that ends a session in the browser.
#[must_use]
pub fn sign_out_cookie(app: &App) -> Cookie<'static> {
    sign_in_cookie(app, "", chrono::TimeDelta::zero())
}

/// A file to be saved under `name` (ASCII).
#[must_use]
pub fn file(name: &str, media_type: &str, bytes: Vec<u8>) -> HttpResponse {
    HttpResponse::Ok()
        .content_type(media_type)
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ))
        .body(bytes)
}

/// A file to be saved under `name` (ASCII), read from `spool` piece by piece while it is sent.
#[must_use]
pub fn spooled(name: &str, media_type: &str, spool: std::fs::File) -> HttpResponse {
    let pieces = futures_util::stream::try_unfold(spool, |mut spool| async move {
        actix_web::web::block(move || {
            let mut piece = vec![0; PIECE_BYTES];
            let read = std::io::Read::read(&mut spool, &mut piece)?;
            piece.truncate(read);
            std::io::Result::Ok((read > 0).then(|| (Bytes::from(piece), spool)))
        })
        .await
        .map_err(std::io::Error::other)?
    });
    streamed(name, media_type, pieces)
}

/// A file to be saved under `name` (ASCII), sent as its pieces come; one that can't be had breaks it off, and the log says why.
pub fn streamed<E: std::fmt::Display + 'static>(
    name: &str,
    media_type: &str,
    pieces: impl Stream<Item = Result<Bytes, E>> + 'static,
) -> HttpResponse {
    let file = name.to_owned();
    let pieces = TryStreamExt::map_err(pieces, move |cause| {
        tracing::error!(%cause, file, "a file broke off while it was sent");
        std::io::Error::other(cause.to_string())
    });
    HttpResponse::Ok()
        .content_type(media_type)
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ))
        .streaming(pieces)
}
