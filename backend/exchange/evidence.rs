//! What was measured beyond one reading, as the JSON text that is stored with a result and exported.

use crate::domain::trade::evidence::Detail;

/// The text.
///
/// # Errors
/// A phrase when it can't be written, which its types rule out.
pub fn to_json(detail: &Detail) -> Result<String, String> {
    serde_json::to_string(detail).map_err(|error| error.to_string())
}

/// What a text holds; none when it is empty, or was written by a version that kept something else.
#[must_use]
pub fn from_json(text: &str) -> Option<Detail> {
    serde_json::from_str(text).ok()
}

/// What a text holds, in one line; empty when it holds nothing that can be read.
#[must_use]
pub fn in_words(text: &str) -> String {
    from_json(text).map_or_else(String::new, |detail| detail.phrases().join("; "))
}
