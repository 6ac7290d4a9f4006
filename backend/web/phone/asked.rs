//! What a request of the phone carries: its headers, the token of the session, and a body within a limit.

use actix_web::http::{StatusCode, header};
use actix_web::{HttpRequest, web};
use futures_util::StreamExt as _;
use uuid::Uuid;

use crate::web::context::Context;
use crate::web::form::carries_token;
use crate::web::problem::Problem;

/// The header with the id of the phone.
pub const PHONE: &str = "phone";

/// The text of a header; empty when it was not sent.
pub fn text<'a>(request: &'a HttpRequest, name: &str) -> &'a str {
    let value = request.headers().get(name).and_then(|value| value.to_str().ok());
    value.unwrap_or_default().trim()
}

/// The UUID of a header.
pub fn uuid(request: &HttpRequest, name: &str) -> Option<Uuid> {
    text(request, name).parse().ok()
}

/// Whether the request carries the token of its session.
///
/// # Errors
/// 403 when it does not: the phone asks for the session again, and sends the same with the new token.
pub fn token(context: &Context, request: &HttpRequest) -> Result<(), Problem> {
    if carries_token(Some(&context.session), text(request, "csrf-token")) {
        return Ok(());
    }
    let said = Problem::new(
        StatusCode::FORBIDDEN,
        "Another session",
        "The token is of another session. Ask for the session, and send this again with its token.",
    );
    Err(said.into())
}

/// The body, at most `limit` bytes. It is read before anything is refused: what stays unread would break the connection. What comes beyond is read and dropped up to eight times as much, so that the phone gets an answer
/// and not a broken connection.
///
/// # Errors
/// 413 when it is larger, 400 when it breaks off.
pub async fn body(mut payload: web::Payload, limit: usize) -> Result<Vec<u8>, Problem> {
    let mut bytes = Vec::new();
    let mut seen = 0_usize;
    while let Some(piece) = payload.next().await {
        let piece = piece.map_err(|cause| {
            let detail = format!("It broke off: {cause}. Send it again.");
            Problem::new(StatusCode::BAD_REQUEST, "Broken off", detail)
        })?;
        seen += piece.len();
        if seen <= limit {
            bytes.extend_from_slice(&piece);
        } else if seen / 8 > limit {
            break;
        }
    }
    if seen <= limit {
        return Ok(bytes);
    }
    let detail = format!("At most {limit} bytes are taken at once. Send less.");
    Err(Problem::new(StatusCode::PAYLOAD_TOO_LARGE, "Too large", detail).into())
}

/// Whether the body is said to be of a media type.
///
/// # Errors
/// 415 when it is not.
pub fn is_of(request: &HttpRequest, media_type: &str) -> Result<(), Problem> {
    let given = text(request, header::CONTENT_TYPE.as_str());
    let given = given.split(';').next().unwrap_or_default().trim();
    if given.eq_ignore_ascii_case(media_type) {
        return Ok(());
    }
    let detail = format!("The body is “{given}”; send {media_type}.");
    Err(Problem::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, "Another kind of body", detail).into())
}
