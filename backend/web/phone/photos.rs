//! Receives photos piece by piece.

use actix_web::http::StatusCode;
use actix_web::{HttpRequest, web};
use serde::Serialize;
use uuid::Uuid;

use super::{Answer, asked, json};
use crate::actions::phone::photos::{MOST_OF_PIECE, Piece, Progress, progress, receive};
use crate::web::context::Context;
use crate::web::form::Fields;
use crate::web::problem::{Problem, Said};

#[derive(Serialize)]
struct Told {
    received: i64,
    is_complete: bool,
    refused: String,
}

fn told(progress: Progress) -> Told {
    Told {
        received: progress.received,
        is_complete: progress.is_complete,
        refused: progress.refused,
    }
}

/// How far a photo has come.
///
/// # Errors
/// 404 when it was not announced by somebody whose business it is.
pub async fn show(context: Context, photo: web::Path<Uuid>) -> Answer {
    let found = context
        .read(move |conn, actor| progress(conn, actor, *photo))
        .await?;
    json(&told(found))
}

/// Takes a piece.
///
/// # Errors
/// 403 without the token, 413 for a larger piece, 409 for a gap, 422 for what is no photo that is taken.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    photo: web::Path<Uuid>,
    payload: web::Payload,
) -> Answer {
    let piece = asked::body(payload, MOST_OF_PIECE).await?;
    asked::token(&context, &request)?;
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let from: i64 = fields.text("from").parse().map_err(|_no_number| {
        let detail = "The address does not say at which byte the piece begins. Write ?from=0.";
        Problem::new(StatusCode::BAD_REQUEST, "From where", detail)
    })?;
    let taken = context
        .act(move |db, actor, now| receive(db, actor, now, *photo, from, &piece))
        .await?;
    match taken {
        Piece::Taken(progress) if progress.refused.is_empty() => json(&told(progress)),
        Piece::Taken(progress) => {
            let detail = progress.refused.clone();
            Err(also(
                Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", detail),
                progress,
            )
            .into())
        }
        Piece::Gap(progress, detail) => {
            Err(also(Problem::new(StatusCode::CONFLICT, "A gap", detail), progress).into())
        }
    }
}

fn also(said: Said, progress: Progress) -> Said {
    said.with("received", progress.received)
        .with("is_complete", progress.is_complete)
        .with("refused", progress.refused)
}
