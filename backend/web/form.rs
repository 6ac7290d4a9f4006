//! Forms as people send them: fields by name, kept as typed so that a page can show them again, and the session's token.

use std::future::Future;
use std::pin::Pin;
use std::str::FromStr;

use actix_web::{FromRequest, HttpMessage, HttpRequest, dev::Payload, web::Bytes};
use chrono::NaiveDate;
use subtle::ConstantTimeEq as _;
use uuid::Uuid;

use super::error::PageError;
use crate::error::{Error, FieldError};
use crate::store::sessions::Session;

/// The fields of a form, in the order in which they were sent; a name may occur more than once.
#[derive(Debug, Clone, Default)]
pub struct Fields(Vec<(String, String)>);

impl Fields {
    /// Fields from pairs, for the first showing of a form.
    #[must_use]
    pub fn from_pairs(pairs: &[(&str, &str)]) -> Self {
        Self(
            pairs
                .iter()
                .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
                .collect(),
        )
    }

    /// Fields of an address after its `?`, or of an urlencoded body.
    #[must_use]
    pub fn from_urlencoded(bytes: &[u8]) -> Self {
        Self(url::form_urlencoded::parse(bytes).into_owned().collect())
    }

    /// Sets a field, for the first showing of a form.
    pub fn set(&mut self, name: &str, value: impl Into<String>) {
        self.0.retain(|(known, _)| known != name);
        self.0.push((name.to_owned(), value.into()));
    }

    /// Adds a value to a field that may occur more than once.
    pub fn add(&mut self, name: &str, value: impl Into<String>) {
        self.0.push((name.to_owned(), value.into()));
    }

    /// The trimmed text of a field, empty when it was not sent.
    #[must_use]
    pub fn text(&self, name: &str) -> &str {
        self.0
            .iter()
            .find(|(known, _)| known == name)
            .map_or("", |(_, value)| value.trim())
    }

    /// The text of a field exactly as typed, for passwords.
    #[must_use]
    pub fn exact(&self, name: &str) -> &str {
        self.0
            .iter()
            .find(|(known, _)| known == name)
            .map_or("", |(_, value)| value)
    }

    /// Every value of a field that may occur more than once.
    pub fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0
            .iter()
            .filter(move |(known, _)| known == name)
            .map(|(_, value)| value.trim())
    }

    /// The id that the page made for what it records, so that a form sent twice records once.
    ///
    /// # Errors
    /// When it was lost on the way.
    pub fn client_id(&self) -> Result<Uuid, Error> {
        self.text("client_id").parse().map_err(|_no_id| {
            Error::refused("This form has lost its id. Load the page again and send it once more.")
        })
    }

    /// The id to put into a form: the one that was sent, when it is shown again, else a new one.
    #[must_use]
    pub fn client_id_or_new(&self) -> String {
        match self.text("client_id") {
            "" => Uuid::new_v4().to_string(),
            sent => sent.to_owned(),
        }
    }

    /// Whether a box was ticked or a button pressed.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(known, _)| known == name)
    }

    /// All fields.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// A field that must be filled in; otherwise a sentence is added to `errors`.
    pub fn required(&self, name: &str, label: &str, errors: &mut Vec<FieldError>) -> String {
        let text = self.text(name);
        if text.is_empty() {
            errors.push(FieldError::new(name, format!("{label}: fill this in.")));
        }
        text.to_owned()
    }

    /// A value of a type that can be read from text, `None` when empty; a sentence is added to `errors` when it can't be read.
    pub fn parsed<T: FromStr>(&self, name: &str, wanted: &str, errors: &mut Vec<FieldError>) -> Option<T> {
        let text = self.text(name);
        if text.is_empty() {
            return None;
        }
        let value = text.parse().ok();
        if value.is_none() {
            errors.push(FieldError::new(
                name,
                format!("“{text}” can't be read. Give {wanted}."),
            ));
        }
        value
    }

    /// A date as `2026-11-25`, `None` when empty.
    pub fn date(&self, name: &str, label: &str, errors: &mut Vec<FieldError>) -> Option<NaiveDate> {
        self.parsed(
            name,
            &format!("{label} as year-month-day, such as 2026-11-25"),
            errors,
        )
    }
}

/// A form that was sent with the token of the session, or before any session.
#[derive(Debug, Clone)]
pub struct Form(pub Fields);

impl std::ops::Deref for Form {
    type Target = Fields;
    fn deref(&self) -> &Fields {
        &self.0
    }
}

/// What a form shows when what was typed was refused: the sentences of its fields, or one over the whole form.
///
/// # Errors
/// The error itself when it is not about what was typed.
pub fn to_mend(error: Error) -> Result<Vec<FieldError>, Error> {
    match error {
        Error::Fields(errors) => Ok(errors),
        Error::Refused(sentence) => Ok(vec![FieldError::new("", sentence)]),
        other => Err(other),
    }
}

/// Whether `token` is the token of the session's forms; without a session there is none to compare.
#[must_use]
pub fn carries_token(session: Option<&Session>, token: &str) -> bool {
    session.is_none_or(|session| bool::from(session.csrf.as_bytes().ct_eq(token.as_bytes())))
}

impl FromRequest for Form {
    type Error = PageError;
    type Future = Pin<Box<dyn Future<Output = Result<Self, PageError>>>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let body = Bytes::from_request(request, payload);
        let session = request.extensions().get::<Session>().cloned();
        Box::pin(async move {
            let body = body.await.map_err(|cause| {
                PageError::from(Error::refused(format!(
                    "The form could not be read: {cause}. Send it again."
                )))
            })?;
            let fields = Fields::from_urlencoded(&body);
            if !carries_token(session.as_ref(), fields.text("csrf")) {
                return Err(PageError::from(Error::Forbidden(
                    "This form is from an earlier sign-in. Go back, load the page again and send it once more.".to_owned(),
                )));
            }
            Ok(Self(fields))
        })
    }
}
