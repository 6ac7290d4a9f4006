//! What went wrong, for a program: a status, a title and a sentence as `application/problem+json` (RFC 9457). Never a redirect.

use actix_web::http::{StatusCode, header};
use actix_web::{HttpResponse, ResponseError};
use serde_json::{Map, Value, json};

use super::error::PageError;
use crate::error::Error;

/// Whether an address is asked by programs, the page on the phone among them, and answers them alone.
#[must_use]
pub fn is_asked_by_program(path: &str) -> bool {
    path.starts_with("/phone/")
}

/// A problem, or an error that becomes one where it is answered.
#[derive(Debug)]
pub enum Problem {
    /// Said here.
    Said(Said),
    /// An error like that of a page; the gate makes a problem of it.
    Error(PageError),
}

/// A problem that is said here.
#[derive(Debug, Clone)]
pub struct Said {
    status: StatusCode,
    title: String,
    detail: String,
    retry_after_s: Option<u64>,
    more: Map<String, Value>,
}

impl Problem {
    /// A problem with its sentence.
    #[must_use]
    #[expect(
        clippy::new_ret_no_self,
        reason = "what is said becomes a problem when it is returned"
    )]
    pub fn new(status: StatusCode, title: impl Into<String>, detail: impl Into<String>) -> Said {
        Said {
            status,
            title: title.into(),
            detail: detail.into(),
            retry_after_s: None,
            more: Map::new(),
        }
    }
}

impl Said {
    /// The same, with the seconds after which another try is worth its while.
    #[must_use]
    pub fn after(mut self, seconds: u64) -> Self {
        self.retry_after_s = Some(seconds);
        self
    }

    /// The same, with more that a program can use.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.more.insert(name.to_owned(), value.into());
        self
    }

    /// The answer.
    #[must_use]
    pub fn response(&self) -> HttpResponse {
        let mut body = json!({
            "type": "about:blank",
            "title": self.title,
            "status": self.status.as_u16(),
            "detail": self.detail,
        });
        if let Some(members) = body.as_object_mut() {
            members.extend(self.more.clone());
        }
        let mut response = HttpResponse::build(self.status);
        response.content_type("application/problem+json");
        if let Some(seconds) = self.retry_after_s {
            response.insert_header((header::RETRY_AFTER, seconds.to_string()));
        }
        response.body(body.to_string())
    }
}

impl From<Said> for Problem {
    fn from(said: Said) -> Self {
        Self::Said(said)
    }
}

impl From<Error> for Problem {
    fn from(error: Error) -> Self {
        Self::Error(PageError::from(error))
    }
}

impl std::fmt::Display for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Said(said) => f.write_str(&said.detail),
            Self::Error(error) => error.fmt(f),
        }
    }
}

impl ResponseError for Problem {
    fn status_code(&self) -> StatusCode {
        match self {
            Self::Said(said) => said.status,
            Self::Error(error) => error.status(),
        }
    }

    /// Of an error the bare status: the gate puts the problem in its place, since it logs each once.
    fn error_response(&self) -> HttpResponse {
        match self {
            Self::Said(said) => said.response(),
            Self::Error(error) => HttpResponse::new(error.status()),
        }
    }
}
