//! The service worker: its script, preceded by the list of files that it keeps and a sum over them, so that a browser takes a new one up
//! whenever one of the files is another.

use actix_web::HttpResponse;
use actix_web::http::header;

use crate::error::Error;
use crate::web::assets;
use crate::web::error::PageResult;

/// What is kept beside the scripts and the style.
const PAGES: [&str; 2] = ["/today", "/urgent"];

/// Answers with the script. Its address lies at the root, since a worker serves only what lies beneath its own.
///
/// # Errors
/// When the script is not among the files.
pub async fn show() -> PageResult {
    let script = assets::text("phone/worker.js").ok_or_else(|| Error::not_found("such file"))?;
    let mut kept: Vec<String> = PAGES.map(str::to_owned).to_vec();
    kept.extend(["/assets/anglestop.css".to_owned(), "/assets/icon.svg".to_owned()]);
    kept.extend(assets::phone_scripts().map(|name| format!("/assets/{name}")));
    let list = serde_json::to_string(&kept).map_err(Error::internal)?;
    let version = assets::version();
    Ok(HttpResponse::Ok()
        .content_type("text/javascript; charset=utf-8")
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(format!(
            "const FILES = {list};\nconst VERSION = \"{version}\";\n{script}"
        )))
}
