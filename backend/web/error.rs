//! Turns an error into a page: a status, a sentence, a way on. An internal error shows a reference and nothing else.

use actix_web::http::{StatusCode, header};
use actix_web::{HttpRequest, HttpResponse, ResponseError};
use askama::Template;

use super::chrome::Chrome;
use super::problem::{Problem, is_asked_by_program};
use crate::error::Error;
use crate::language::Language;

/// What a page handler fails with.
#[derive(Debug)]
pub struct PageError(Error);

/// What a page handler answers with.
pub type PageResult = Result<HttpResponse, PageError>;

impl<E> From<E> for PageError
where
    Error: From<E>,
{
    fn from(cause: E) -> Self {
        Self(Error::from(cause))
    }
}

impl std::fmt::Display for PageError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

#[derive(Template)]
#[template(path = "pages/error.html")]
struct ErrorPage {
    chrome: Chrome,
    heading: String,
    sentence: String,
    reference: Option<String>,
}

impl PageError {
    /// The status that says the same to programs.
    #[must_use]
    pub fn status(&self) -> StatusCode {
        match &self.0 {
            Error::NotFound(_) => StatusCode::NOT_FOUND,
            Error::SignedOut => StatusCode::UNAUTHORIZED,
            Error::Forbidden(_) => StatusCode::FORBIDDEN,
            Error::Refused(_) | Error::Fields(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Error::Conflict(_) => StatusCode::CONFLICT,
            Error::TooMany { .. } => StatusCode::TOO_MANY_REQUESTS,
            Error::Unavailable(_) => StatusCode::SERVICE_UNAVAILABLE,
            Error::Internal(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// The message of its heading.
    fn heading(&self) -> &'static str {
        match &self.0 {
            Error::NotFound(_) => "error-not-here",
            Error::SignedOut => "error-signed-out",
            Error::Forbidden(_) => "error-not-for-you",
            Error::Refused(_) | Error::Fields(_) => "error-not-done",
            Error::Conflict(_) => "error-changed",
            Error::TooMany { .. } => "error-too-many",
            Error::Unavailable(_) => "error-unavailable",
            Error::Internal(_) => "error-broke",
        }
    }

    /// The page, within the person's own frame when somebody is signed in. An internal error is logged here, so each is asked for one
    /// page only.
    #[must_use]
    pub fn page(&self, request: &HttpRequest) -> HttpResponse {
        let mut chrome = Chrome::of_request(request, "").spoken();
        chrome.title = chrome.say(self.heading()).into();
        self.render(chrome)
    }

    /// What whoever asked is answered: a page, or where a program asks, the same as JSON.
    #[must_use]
    pub fn answer(&self, request: &HttpRequest) -> HttpResponse {
        if is_asked_by_program(request.path()) {
            let language = Chrome::of_request(request, "").language;
            let (sentence, reference) = self.sentence(language);
            let detail = match reference {
                Some(reference) => format!("{sentence} Reference: {reference}."),
                None => sentence,
            };
            let mut problem = Problem::new(self.status(), language.say(self.heading()), detail);
            if let Error::TooMany { retry_after_s, .. } = &self.0 {
                problem = problem.after(*retry_after_s);
            }
            return problem.response();
        }
        self.page(request)
    }

    /// What to tell, and of an internal error, which is logged here, its reference.
    fn sentence(&self, language: Language) -> (String, Option<String>) {
        match &self.0 {
            Error::Internal(cause) => {
                let reference = uuid::Uuid::new_v4().simple().to_string()[..8].to_owned();
                tracing::error!(reference, %cause, "internal error");
                (language.say("error-internal").to_string(), Some(reference))
            }
            known => (language.sentence(&known.to_string()), None),
        }
    }

    fn render(&self, chrome: Chrome) -> HttpResponse {
        let (sentence, reference) = self.sentence(chrome.language);
        let page = ErrorPage {
            heading: chrome.title.clone(),
            chrome,
            sentence,
            reference,
        };
        let mut response = HttpResponse::build(self.status());
        response.content_type("text/html; charset=utf-8");
        if let Error::TooMany { retry_after_s, .. } = &self.0 {
            response.insert_header((header::RETRY_AFTER, retry_after_s.to_string()));
        }
        match page.render() {
            Ok(body) => response.body(body),
            Err(cause) => {
                tracing::error!(%cause, "the error page itself can't be rendered");
                response.body("Something broke. Nothing was stored.")
            }
        }
    }
}

impl ResponseError for PageError {
    fn status_code(&self) -> StatusCode {
        self.status()
    }

    /// The bare status: the gate puts the page in its place, since only it knows who asked.
    fn error_response(&self) -> HttpResponse {
        HttpResponse::new(self.status())
    }
}
