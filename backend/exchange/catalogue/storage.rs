//! One check as JSON text, the form in which each version is stored, so that old answers keep the procedure as it was asked.

use super::{CatalogueError, validate_check};
use crate::domain::trade::Check;

/// The check as JSON text.
///
/// # Errors
/// When it can't be written, which its types rule out but for minutes that are no number.
pub fn check_to_json(check: &Check) -> Result<String, CatalogueError> {
    serde_json::to_string(check).map_err(|error| CatalogueError::new(check.code.as_str(), error.to_string()))
}

/// The check that a JSON text holds, held to what every check must be.
///
/// # Errors
/// A sentence that says what is wrong with the text.
pub fn check_from_json(text: &str) -> Result<Check, CatalogueError> {
    let check: Check =
        serde_json::from_str(text).map_err(|error| CatalogueError::new("stored check", error.to_string()))?;
    validate_check(&check)?;
    Ok(check)
}
