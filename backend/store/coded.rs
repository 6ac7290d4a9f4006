//! Codes as rows keep them: read into the domain's words, or an internal error, since only we write them.

use crate::domain::code::Coded;
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};

/// The value of a code that we wrote ourselves.
///
/// # Errors
/// An internal error when the row holds another.
pub fn read_code<T: Coded>(code: &str) -> Result<T> {
    T::from_code(code).map_err(Error::internal)
}

/// The part of a row, where an empty text is the fixture itself.
///
/// # Errors
/// An internal error when the row holds no part.
pub fn read_part(code: &str) -> Result<Option<PartKind>> {
    if code.is_empty() {
        Ok(None)
    } else {
        read_code(code).map(Some)
    }
}

/// The code of a part as rows keep it, empty for the fixture itself.
#[must_use]
pub fn part_code(part: Option<PartKind>) -> &'static str {
    part.map_or("", Coded::code)
}
