//! What is answered where there is no page.

use crate::error::Error;
use crate::web::error::PageResult;

/// There is nothing at this address.
///
/// # Errors
/// Always.
pub async fn show() -> PageResult {
    Err(Error::not_found("such page").into())
}
