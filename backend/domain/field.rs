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
