//! The signed record of a turnover, byte for byte as it was signed.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};

use crate::domain::register::TurnoverId;
use crate::error::Error;
use crate::exchange::paper::style_of;
use crate::store::{documents, turnovers};
use crate::web::context::Context;
use crate::web::error::PageResult;

/// Answers with the record.
///
/// # Errors
/// When there is no such turnover that may be seen, it was not closed yet, or its bytes no longer match their sum.
pub async fn show(context: Context, key: web::Path<i64>) -> PageResult {
    let id = TurnoverId(*key);
    let (paper, bytes) = context
        .read(move |conn, actor| {
            turnovers::find(conn, &actor.scope, id)?;
            let paper = documents::of_turnover(conn, id)?
                .ok_or_else(|| Error::not_found("record of this turnover yet; closing it makes one"))?;
            let bytes = documents::bytes(conn, &paper)?;
            Ok((paper, bytes))
        })
        .await?;
    Ok(HttpResponse::Ok()
        .content_type(paper.media_type.as_str())
        .insert_header((header::CONTENT_SECURITY_POLICY, policy(&bytes)))
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("inline; filename=\"{}\"", paper.file_name),
        ))
        .body(bytes))
}

/// A paper needs nothing but the style that stands in it, so nothing else is allowed.
fn policy(bytes: &[u8]) -> String {
    let style = style_of(bytes).map_or_else(
        || "'none'".to_owned(),
        |style| format!("'sha256-{}'", BASE64_STANDARD.encode(Sha256::digest(style))),
    );
    format!(
        "default-src 'none'; style-src {style}; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )
}
