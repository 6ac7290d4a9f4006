//! What the page on the phone asks of the server, and answers it as JSON.

mod asked;
pub mod entry;
pub mod photos;
pub mod session;
pub mod sync;
pub mod units;
pub mod words;

use actix_web::HttpResponse;
use serde::Serialize;

use super::problem::Problem;
use crate::error::Error;

/// What a handler answers with.
pub type Answer = Result<HttpResponse, Problem>;

fn json(value: &impl Serialize) -> Answer {
    let text = serde_json::to_string(value).map_err(Error::internal)?;
    Ok(HttpResponse::Ok().content_type("application/json").body(text))
}
