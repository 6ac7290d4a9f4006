//! The one error type of actions, store and jobs. It knows nothing of HTTP: `web::error` and `cli` turn it into an answer.
//!
//! A refusal is a sentence that says what was given, what the limit is and what to do. Anything that is nobody's mistake is
//! [`Error::Internal`]; its text is logged once, where it becomes an answer, and never shown.

pub use crate::domain::field::FieldError;

/// Why something was not done.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no such thing, or it is another owner's, which is the same to whoever asks.
    #[error("There is no {0} here.")]
    NotFound(String),
    /// Nobody is signed in.
    #[error("Sign in first.")]
    SignedOut,
    /// The person may not do this.
    #[error("{0}")]
    Forbidden(String),
    /// What was asked can't be done as it stands; the sentence says what to do.
    #[error("{0}")]
    Refused(String),
    /// Some fields need another value.
    #[error("{}", join(.0))]
    Fields(Vec<FieldError>),
    /// It was done differently meanwhile.
    #[error("{0}")]
    Conflict(String),
    /// Too many tries.
    #[error("{sentence}")]
    TooMany {
        /// What to tell.
        sentence: String,
        /// Seconds until the next try is heard.
        retry_after_s: u64,
    },
    /// The database or another service does not answer.
    #[error("{0}")]
    Unavailable(String),
    /// Nobody's mistake but ours or the machine's.
    #[error(transparent)]
    Internal(Box<dyn std::error::Error + Send + Sync>),
}

impl Error {
    /// There is no such `what`.
    pub fn not_found(what: impl Into<String>) -> Self {
        Self::NotFound(what.into())
    }

    /// A refusal in one sentence.
    pub fn refused(sentence: impl Into<String>) -> Self {
        Self::Refused(sentence.into())
    }

    /// One field needs another value.
    pub fn field(field: impl Into<String>, message: impl Into<String>) -> Self {
        Self::Fields(vec![FieldError::new(field, message)])
    }

    /// Something that should not happen.
    pub fn internal(cause: impl Into<Box<dyn std::error::Error + Send + Sync>>) -> Self {
        Self::Internal(cause.into())
    }
}

impl From<std::io::Error> for Error {
    fn from(cause: std::io::Error) -> Self {
        Self::internal(cause)
    }
}

fn join(errors: &[FieldError]) -> String {
    errors
        .iter()
        .map(|error| error.message.as_str())
        .collect::<Vec<_>>()
        .join(" ")
}

/// What actions and store answer with.
pub type Result<T, E = Error> = std::result::Result<T, E>;
