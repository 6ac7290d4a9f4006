//! The shell: the same bytes for everybody, so that a phone may keep it. Nobody's name, no token and no data stand in it.

use actix_web::HttpResponse;
use askama::Template;

use crate::error::Error;
use crate::web::error::PageResult;

#[derive(Template)]
#[template(path = "pages/phone/shell.html")]
struct Shell;

/// Answers with the shell.
///
/// # Errors
/// When the template fails.
pub async fn show() -> PageResult {
    let body = Shell.render().map_err(Error::internal)?;
    Ok(HttpResponse::Ok()
        .content_type("text/html; charset=utf-8")
        .body(body))
}
