//! Style, script and icons, embedded in the binary. The style's pieces are joined in the order of their names' list.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use rust_embed::RustEmbed;

use super::error::PageResult;
use crate::error::Error;

#[derive(RustEmbed)]
#[folder = "templates/assets/"]
struct Files;

/// The pieces of `/assets/anglestop.css`, in the order of the cascade.
const STYLE: &[&str] = &[
    "tokens", "sheet", "words", "forms", "tables", "pictures", "phone", "print", "labels",
];

/// Answers with one file.
///
/// # Errors
/// When there is no such file.
pub async fn show(file: web::Path<String>) -> PageResult {
    let name = file.into_inner();
    let bytes = if name == "anglestop.css" {
        Some(style())
    } else {
        Files::get(&name).map(|file| file.data.into_owned())
    };
    let bytes = bytes.ok_or_else(|| Error::not_found("such file"))?;
    let media_type = mime_guess::from_path(&name).first_or_octet_stream();
    Ok(HttpResponse::Ok()
        .content_type(media_type)
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(bytes))
}

fn style() -> Vec<u8> {
    STYLE
        .iter()
        .filter_map(|piece| Files::get(&format!("css/{piece}.css")))
        .flat_map(|file| file.data.into_owned())
        .collect()
}
