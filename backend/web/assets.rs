//! Style, script and icons, embedded in the binary. The style's pieces are joined in the order of their names' list.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use rust_embed::RustEmbed;
use sha2::{Digest as _, Sha256};

use super::error::PageResult;
use crate::error::Error;

#[derive(RustEmbed)]
#[folder = "templates/assets/"]
struct Files;

/// The pieces of `/assets/anglestop.css`, in the order of the cascade.
const STYLE: &[&str] = &[
    "tokens", "sheet", "words", "forms", "tables", "pictures", "phone", "walk", "print", "labels",
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

/// One file as text.
pub(super) fn text(name: &str) -> Option<String> {
    let file = Files::get(name)?;
    String::from_utf8(file.data.into_owned()).ok()
}

/// The scripts of the page on the phone, by name.
pub(super) fn phone_scripts() -> impl Iterator<Item = String> {
    Files::iter()
        .map(std::borrow::Cow::into_owned)
        .filter(|name| name.starts_with("phone/") && name.ends_with(".js") && name != "phone/worker.js")
}

/// A sum over every file, and over this program's version: another one, when any of them is another.
pub(super) fn version() -> String {
    let mut names: Vec<String> = Files::iter().map(std::borrow::Cow::into_owned).collect();
    names.sort();
    let mut sum = Sha256::new();
    sum.update(env!("CARGO_PKG_VERSION"));
    for name in names {
        if let Some(file) = Files::get(&name) {
            sum.update(&name);
            sum.update(file.data);
        }
    }
    sum.finalize()
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
