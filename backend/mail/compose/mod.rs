//! Mails as text and HTML from values. Text comes first and is complete; HTML says the same and loads nothing.

pub mod digest;
pub mod invite;
pub mod reset;
pub mod urgent;

use uuid::Uuid;

/// A mail's words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Letter {
    /// Subject line.
    pub subject: String,
    /// Complete in itself.
    pub text: String,
    /// The same in HTML.
    pub html: String,
}

/// A Message-ID of ours at the domain of the server's public address; the same for the same unique key, so that a retry of a mail
/// carries the same one.
#[must_use]
pub fn message_id(unique_key: &str, public_url: &str) -> String {
    let domain = url::Url::parse(public_url)
        .ok()
        .and_then(|url| url.host_str().map(str::to_owned))
        .filter(|host| host.contains('.') && !host.starts_with(|c: char| c.is_ascii_digit()))
        .unwrap_or_else(|| "anglestop.invalid".to_owned());
    format!(
        "<{}@{domain}>",
        Uuid::new_v5(
            &Uuid::NAMESPACE_URL,
            format!("{public_url}#{unique_key}").as_bytes()
        )
    )
}
