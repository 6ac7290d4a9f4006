//! What each column of the condition CSV means.

use actix_web::HttpRequest;
use askama::Template;

use crate::exchange::csv::{Column, condition};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/condition/columns.html")]
struct Page {
    chrome: Chrome,
    columns: &'static [Column],
}

/// Lists the columns.
///
/// # Errors
/// When the template fails.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    respond::page(&Page {
        chrome: Chrome::new(&context, &request, "Columns of the condition"),
        columns: &condition::COLUMNS,
    })
}
