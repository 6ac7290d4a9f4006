//! A sentence about one field of a form, a row or a command, for whoever typed it.

/// What is wrong with one field and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldError {
    /// The field's name as in the form, the CSV header or the command line.
    pub field: String,
    /// A sentence that says what to do.
    pub message: String,
}

impl FieldError {
    /// A sentence about `field`.
    pub fn new(field: impl Into<String>, message: impl Into<String>) -> Self {
        Self {
            field: field.into(),
            message: message.into(),
        }
    }
}

/// Words with a capital first letter, as a sentence begins.
///
/// ```
/// assert_eq!(anglestop::domain::field::capital("every 6 months"), "Every 6 months");
/// ```
#[must_use]
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
