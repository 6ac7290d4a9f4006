//! The messages of the page on the phone, as Fluent text: kept there, so that it speaks without signal.

use actix_web::http::header::{self, EntityTag, Header as _, IfNoneMatch};
use actix_web::{HttpRequest, HttpResponse, web};
use sha2::{Digest as _, Sha256};

use crate::error::Error;
use crate::language::{Language, catalogue};
use crate::web::error::PageResult;

/// The files of messages that the phone needs: numbers and dates, and its own words.
const FILES: [&str; 2] = ["figures.ftl", catalogue::PHONE];

/// Answers with the messages of a language.
///
/// # Errors
/// When there is no such language.
pub async fn show(language: web::Path<String>, request: HttpRequest) -> PageResult {
    let text = text_of(&language).ok_or_else(|| Error::not_found("such language"))?;
    let digest = Sha256::digest(text.as_bytes());
    let tag = EntityTag::new_strong(digest[..8].iter().map(|byte| format!("{byte:02x}")).collect());
    let is_known = match IfNoneMatch::parse(&request) {
        Ok(IfNoneMatch::Any) => true,
        Ok(IfNoneMatch::Items(known)) => known.iter().any(|known| known.weak_eq(&tag)),
        Err(_) => false,
    };
    let mut response = if is_known {
        HttpResponse::NotModified()
    } else {
        HttpResponse::Ok()
    };
    response
        .insert_header((header::ETAG, tag))
        .insert_header((header::CACHE_CONTROL, "no-cache"));
    if is_known {
        return Ok(response.finish());
    }
    Ok(response.content_type("text/plain; charset=utf-8").body(text))
}

fn text_of(language: &str) -> Option<String> {
    let language = Language::known(language)?;
    let files: Vec<(String, String, String)> = catalogue::files()
        .filter(|(tag, _, _)| tag == language.tag())
        .collect();
    let wanted = FILES.iter().filter_map(|wanted| {
        let found = files.iter().find(|(_, name, _)| name == wanted)?;
        Some(found.2.as_str())
    });
    Some(wanted.collect::<Vec<_>>().join("\n"))
}
