//! The shell: the same bytes for everybody, so that a phone may keep it. Nobody's name, no token and no data stand in it.

use actix_web::HttpResponse;
use askama::Template;

use crate::error::Error;
use crate::web::assets;
use crate::web::error::PageResult;

/// What is named in the page already, and what the first screen does without.
const LATER: [&str; 10] = [
    "phone/main.js",
    "phone/walk.js",
    "phone/item.js",
    "phone/steps.js",
    "phone/unsent.js",
    "phone/urgent.js",
    "phone/drawing.js",
    "phone/reading.js",
    "phone/signature.js",
    "phone/tools.js",
];

#[derive(Template)]
#[template(path = "pages/phone/shell.html")]
struct Shell {
    /// Asked for at once, since each would else be found only when the one that wants it is there.
    scripts: Vec<String>,
}

/// Answers with the shell.
///
/// # Errors
/// When the template fails.
pub async fn show() -> PageResult {
    let is_first = |name: &String| !LATER.contains(&name.as_str());
    let scripts = assets::phone_scripts().filter(is_first).collect();
    let body = Shell { scripts }.render().map_err(Error::internal)?;
    Ok(HttpResponse::Ok()
        .content_type("text/html; charset=utf-8")
        .body(body))
}
