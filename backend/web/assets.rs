//! Style, script and icons, embedded in the binary. The style's pieces are joined in the order of their names' list. Each is packed once, as
//! small as it gets: on a phone's line it is what is waited for.

use std::io::Write as _;
use std::sync::Arc;

use actix_web::http::header::{
    self, AcceptEncoding, ContentEncoding, ETag, Encoding, EntityTag, Header as _, IfNoneMatch,
};
use actix_web::{HttpRequest, HttpResponse, web};
use flate2::Compression;
use flate2::write::GzEncoder;
use rust_embed::RustEmbed;
use sha2::{Digest as _, Sha256};

use super::error::PageResult;
use crate::error::{Error, Result};
use crate::kept::Kept;
use crate::store::documents::sha256_of;

/// Packed files by the sum of what they hold, at most so many bytes together.
static PACKED: Kept<String, Arc<Vec<u8>>> = Kept::new(4 << 20);

#[derive(RustEmbed)]
#[folder = "templates/assets/"]
struct Files;

/// The pieces of `/assets/anglestop.css`, in the order of the cascade.
const STYLE: &[&str] = &[
    "tokens", "sheet", "words", "forms", "tables", "pictures", "phone", "walk", "print", "labels",
];

/// Answers with one file, or that the browser has it already.
///
/// # Errors
/// When there is no such file.
pub async fn show(request: HttpRequest, file: web::Path<String>) -> PageResult {
    let name = file.into_inner();
    let bytes = if name == "anglestop.css" {
        Some(style())
    } else {
        Files::get(&name).map(|file| file.data.into_owned())
    };
    let bytes = bytes.ok_or_else(|| Error::not_found("such file"))?;
    let media_type = mime_guess::from_path(&name).first_or_octet_stream();
    let sum = sha256_of(&bytes);
    let tag = EntityTag::new_weak(sum.clone());
    let is_known = match IfNoneMatch::parse(&request) {
        Ok(IfNoneMatch::Items(known)) => known.iter().any(|one| one.weak_eq(&tag)),
        Ok(IfNoneMatch::Any) | Err(_) => false,
    };
    let mut answer = if is_known {
        HttpResponse::NotModified()
    } else {
        HttpResponse::Ok()
    };
    answer
        .insert_header(ETag(tag))
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .insert_header((header::VARY, "Accept-Encoding"));
    if is_known {
        return Ok(answer.finish());
    }
    answer.content_type(media_type);
    if !takes_gzip(&request) {
        return Ok(answer.body(bytes));
    }
    let packed = packed(sum, &bytes)?;
    Ok(answer
        .insert_header(ContentEncoding::Gzip)
        .body(packed.as_ref().clone()))
}

fn takes_gzip(request: &HttpRequest) -> bool {
    let offered = [Encoding::gzip(), Encoding::identity()];
    let accepted = AcceptEncoding::parse(request).ok();
    accepted.and_then(|accepted| accepted.negotiate(offered.iter())) == Some(Encoding::gzip())
}

fn packed(sum: String, bytes: &[u8]) -> Result<Arc<Vec<u8>>> {
    if let Some(packed) = PACKED.get(&sum) {
        return Ok(packed);
    }
    let mut into = GzEncoder::new(Vec::new(), Compression::best());
    into.write_all(bytes).map_err(Error::internal)?;
    let packed = Arc::new(into.finish().map_err(Error::internal)?);
    PACKED.put_weighing(sum, Arc::clone(&packed), packed.len());
    Ok(packed)
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
