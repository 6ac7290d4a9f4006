//! The signed record of a turnover and the household's copy, as page and as PDF, byte for byte as they were issued.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};

use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};
use crate::exchange::paper::style_of;
use crate::exchange::pdf;
use crate::store::document_forms::{self, Form};
use crate::store::documents::{self, Document};
use crate::store::{AnyConnection, turnovers};
use crate::web::context::Context;
use crate::web::error::PageResult;

/// Answers with the record as a page.
///
/// # Errors
/// When there is no such turnover that may be seen, it was not closed yet, or its bytes no longer match their sum.
pub async fn show(context: Context, key: web::Path<i64>) -> PageResult {
    let id = TurnoverId(*key);
    let (paper, bytes) = context
        .read(move |conn, actor| {
            let paper = record(conn, actor, id)?;
            let bytes = documents::bytes(conn, &paper)?;
            Ok((paper, bytes))
        })
        .await?;
    Ok(answer(&paper.media_type, &paper.file_name, bytes))
}

/// Answers with the record as PDF.
///
/// # Errors
/// As [`show`], and when the record was made before there were any.
pub async fn as_pdf(context: Context, key: web::Path<i64>) -> PageResult {
    form(context, TurnoverId(*key), Form::Pdf).await
}

/// Answers with the household's copy as a page.
///
/// # Errors
/// As [`as_pdf`].
pub async fn copy(context: Context, key: web::Path<i64>) -> PageResult {
    form(context, TurnoverId(*key), Form::Copy).await
}

/// Answers with the household's copy as PDF.
///
/// # Errors
/// As [`as_pdf`].
pub async fn copy_as_pdf(context: Context, key: web::Path<i64>) -> PageResult {
    form(context, TurnoverId(*key), Form::CopyPdf).await
}

async fn form(context: Context, id: TurnoverId, form: Form) -> PageResult {
    let (kept, bytes) = context
        .read(move |conn, actor| {
            let paper = record(conn, actor, id)?;
            document_forms::read(conn, &paper, form)
        })
        .await?;
    Ok(answer(&kept.media_type, &kept.file_name, bytes))
}

fn record(conn: &mut AnyConnection, actor: &Actor, id: TurnoverId) -> Result<Document> {
    turnovers::find(conn, &actor.scope, id)?;
    documents::of_turnover(conn, id)?
        .ok_or_else(|| Error::not_found("record of this turnover yet; closing it makes one"))
}

/// A page is shown; a PDF is a file to take away, which no policy of a page gets in the way of.
fn answer(media_type: &str, file_name: &str, bytes: Vec<u8>) -> HttpResponse {
    let how = if media_type == pdf::MEDIA_TYPE {
        "attachment"
    } else {
        "inline"
    };
    HttpResponse::Ok()
        .content_type(media_type)
        .insert_header((header::CONTENT_SECURITY_POLICY, policy(&bytes)))
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("{how}; filename=\"{file_name}\""),
        ))
        .body(bytes)
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
