//! What stands before every handler: who is asking, whether the table of routes lets them, and the headers of every answer.

use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use actix_web::middleware::Next;
use actix_web::{HttpMessage, HttpResponse, web};
use chrono::{NaiveDateTime, TimeDelta};

use super::context::off_worker;
use super::error::PageError;
use super::problem::{Problem, is_asked_by_program};
use super::routes::{self, Access};
use super::{App, respond};
use crate::actions::people::sign_in;
use crate::domain::register::person::Role;
use crate::error::Error;
use crate::store::sessions::Session;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; \
    connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Longest time without a request before a session ends.
#[must_use]
pub fn idle_limit(role: Role) -> TimeDelta {
    match role {
        Role::Manager | Role::Owner => TimeDelta::hours(12),
        Role::Technician => TimeDelta::days(14),
    }
}

/// Finds the session, and refuses what the table of routes does not allow.
///
/// # Errors
/// Whatever the handler answers with.
pub async fn guard(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<impl MessageBody>, actix_web::Error> {
    match admit(&request).await {
        Ok(()) => {
            let answer = next.call(request).await?;
            match framed(&answer) {
                // The handler knew nothing of the person's frame when it failed; this does.
                Some(page) => Ok(answer.into_response(page).map_into_right_body()),
                None => Ok(answer.map_into_left_body()),
            }
        }
        Err(response) => Ok(request.into_response(response).map_into_right_body()),
    }
}

/// The page of what a handler failed with, within the frame of whoever asked; none when it did not fail.
fn framed<B>(answer: &ServiceResponse<B>) -> Option<HttpResponse> {
    let error = answer.response().error()?;
    let failed = match error.as_error::<Problem>() {
        Some(Problem::Error(failed)) => failed,
        Some(Problem::Said(_)) => return None,
        None => error.as_error::<PageError>()?,
    };
    Some(failed.answer(answer.request()))
}

async fn admit(request: &ServiceRequest) -> Result<(), HttpResponse> {
    let refuse = |error: Error| PageError::from(error).answer(request.request());
    let session = load_session(request).await.map_err(refuse)?;
    if request.method() == "POST" && !is_same_site(request) {
        return Err(refuse(Error::Forbidden(
            "This form was sent from another site. Open the page here and send it again.".to_owned(),
        )));
    }
    let role = session.as_ref().map(|session| session.actor.role);
    if let Some(session) = session {
        request.extensions_mut().insert(session);
    }
    let pattern = request.match_pattern().unwrap_or_default();
    match routes::access(request.method().as_str(), &pattern) {
        None | Some(Access::Anybody) => Ok(()),
        Some(Access::Roles(roles)) => match role {
            Some(role) if roles.contains(&role) => Ok(()),
            Some(_) => Err(refuse(Error::Forbidden(
                "This page is for other people of the office. Ask the manager if you need it.".to_owned(),
            ))),
            None if request.method() == "GET" && !is_asked_by_program(request.path()) => {
                Err(respond::to_sign_in(request.uri()))
            }
            None => Err(refuse(Error::SignedOut)),
        },
    }
}

async fn load_session(request: &ServiceRequest) -> Result<Option<Session>, Error> {
    let Some(app) = request.app_data::<web::Data<App>>().cloned() else {
        return Ok(None);
    };
    let Some(token) = request.cookie(respond::session_cookie(&app.settings)) else {
        return Ok(None);
    };
    let token_hash = sign_in::hash_of(token.value());
    let now = app.clock.now().0;
    let found = app
        .glance(move |conn| crate::store::sessions::find(conn, &token_hash))
        .await?;
    let Some(session) = found else {
        return Ok(None);
    };
    if is_over(&session, now) {
        let db = app.db.clone();
        off_worker(move || db.write(|tx| crate::store::sessions::end(tx, session.id))).await?;
        return Ok(None);
    }
    if now - session.last_seen_at > TimeDelta::minutes(1) {
        let (db, id) = (app.db.clone(), session.id);
        off_worker(move || db.write(|tx| crate::store::sessions::touch(tx, id, now))).await?;
    }
    Ok(Some(session))
}

fn is_over(session: &Session, now: NaiveDateTime) -> bool {
    now >= session.ends_at || now - session.last_seen_at > idle_limit(session.actor.role)
}

/// Whether a browser says that a form was sent from this site; a client that is no browser says nothing and has no cookies
/// of ours to misuse but those that it was given.
fn is_same_site(request: &ServiceRequest) -> bool {
    let headers = request.headers();
    if let Some(site) = headers.get("sec-fetch-site") {
        return site == "same-origin" || site == "none";
    }
    match headers
        .get(header::ORIGIN)
        .and_then(|origin| origin.to_str().ok())
    {
        None => true,
        Some(origin) => {
            let host = headers
                .get(header::HOST)
                .and_then(|host| host.to_str().ok())
                .unwrap_or_default();
            origin
                .split_once("://")
                .is_some_and(|(_, from)| from.eq_ignore_ascii_case(host))
        }
    }
}

/// Marks every cookie of an answer as one for https alone.
fn keep_cookies_to_https(headers: &mut HeaderMap) {
    let cookies: Vec<HeaderValue> = headers.remove(header::SET_COOKIE).collect();
    for cookie in cookies {
        let text = cookie.to_str().unwrap_or_default();
        let kept = if text.contains("; Secure") {
            cookie
        } else {
            HeaderValue::from_str(&format!("{text}; Secure")).unwrap_or(cookie)
        };
        headers.append(header::SET_COOKIE, kept);
    }
}

/// Puts the headers on every answer.
///
/// # Errors
/// Whatever the handler answers with.
pub async fn headers(
    request: ServiceRequest,
    next: Next<impl MessageBody>,
) -> Result<ServiceResponse<impl MessageBody>, actix_web::Error> {
    let https = request
        .app_data::<web::Data<App>>()
        .is_some_and(|app| app.settings.is_https());
    let mut response = next.call(request).await?;
    let headers = response.headers_mut();
    let mut put = |name: HeaderName, value: &'static str| {
        if !headers.contains_key(&name) {
            headers.insert(name, HeaderValue::from_static(value));
        }
    };
    put(header::CONTENT_SECURITY_POLICY, POLICY);
    put(header::X_CONTENT_TYPE_OPTIONS, "nosniff");
    put(header::REFERRER_POLICY, "same-origin");
    put(
        header::PERMISSIONS_POLICY,
        "camera=(self), geolocation=(), microphone=()",
    );
    put(header::CACHE_CONTROL, "no-store");
    if https {
        put(header::STRICT_TRANSPORT_SECURITY, "max-age=31536000");
        keep_cookies_to_https(headers);
    }
    Ok(response)
}
