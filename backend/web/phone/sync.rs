//! Takes a batch of what was done on a phone.

use actix_web::http::StatusCode;
use actix_web::{HttpRequest, HttpResponse, web};
use serde_json::Value;

use super::Answer;
use super::asked::{self, PHONE};
use crate::actions::phone::{Sending, Synced, sync};
use crate::exchange::phone::instant;
use crate::exchange::phone::sync::MOST_BYTES;
use crate::language::Language;
use crate::store::phones::Unsent;
use crate::web::context::Context;
use crate::web::origin;
use crate::web::problem::Problem;

/// Takes it.
///
/// # Errors
/// 403 without the token, 413 and 415 for another body, 400 for what can't be read, 409 while the same key is worked on, 422 for a key
/// that came with another body.
pub async fn submit(context: Context, request: HttpRequest, payload: web::Payload) -> Answer {
    let body = asked::body(payload, MOST_BYTES).await?;
    asked::token(&context, &request)?;
    asked::is_of(&request, "application/json")?;
    let sending = sending(&request, body)?;
    let synced = context
        .act(move |db, actor, now| sync(db, actor, now, &sending))
        .await?;
    let said = match synced {
        Synced::Answered(text) => {
            let text = in_language(context.language(), text);
            return Ok(HttpResponse::Ok().content_type("application/json").body(text));
        }
        Synced::Running { retry_after_s } => Problem::new(
            StatusCode::CONFLICT,
            "Being worked on",
            "The same batch is being worked on. Ask again in a moment.",
        )
        .after(u64::try_from(retry_after_s).unwrap_or(1)),
        Synced::OtherBody => Problem::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "Another batch",
            "This key came with another batch before. Send each batch under a key of its own.",
        ),
        Synced::Unreadable(sentence) => Problem::new(StatusCode::BAD_REQUEST, "Can't be read", sentence),
    };
    Err(said.into())
}

/// An answer with its sentences in the person's language. It is kept in English, since a manager reads it too.
fn in_language(language: Language, text: String) -> String {
    if language == Language::ENGLISH {
        return text;
    }
    let Ok(mut answer) = serde_json::from_str::<Value>(&text) else {
        return text;
    };
    for told in answer["ops"].as_array_mut().into_iter().flatten() {
        if let Some(Value::String(sentence)) = told.get_mut("sentence") {
            *sentence = language.sentence(sentence);
        }
    }
    answer.to_string()
}

fn sending(request: &HttpRequest, body: Vec<u8>) -> Result<Sending, Problem> {
    let missing = |name: &str| {
        let detail = format!("The header {name} holds no UUID. Send one.");
        Problem::new(StatusCode::BAD_REQUEST, "No key", detail)
    };
    Ok(Sending {
        key: asked::uuid(request, "idempotency-key").ok_or_else(|| missing("Idempotency-Key"))?,
        phone: asked::uuid(request, PHONE).ok_or_else(|| missing("Phone"))?,
        clock: instant::read(asked::text(request, "phone-clock")),
        left: left(asked::text(request, "phone-left")),
        user_agent: origin::agent(request),
        body,
    })
}

/// `3,1`: answers and photos that are unsent.
fn left(text: &str) -> Option<Unsent> {
    let (answers, photos) = text.split_once(',')?;
    let count = |text: &str| {
        text.trim()
            .parse::<i64>()
            .ok()
            .filter(|count| (0..=1_000_000).contains(count))
    };
    Some(Unsent {
        answers: count(answers)?,
        photos: count(photos)?,
    })
}
