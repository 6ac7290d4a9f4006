//! An issued paper, byte for byte.

use actix_web::http::header;
use actix_web::{HttpResponse, web};

use crate::domain::register::DocumentId;
use crate::domain::register::person::Role;
use crate::error::Error;
use crate::store::documents::{self, DocumentKind};
use crate::web::context::Context;
use crate::web::error::PageResult;

/// Sends the paper. Owners get those of their buildings' condition; a turnover's record is for the office.
///
/// # Errors
/// When there is none in sight, or its bytes no longer match their sum.
pub async fn show(context: Context, key: web::Path<i64>) -> PageResult {
    let (document, bytes) = context
        .read(move |conn, actor| {
            let document = documents::find(conn, &actor.scope, DocumentId(*key))?;
            if actor.role == Role::Owner && document.kind != DocumentKind::Condition {
                return Err(Error::not_found("such document"));
            }
            let bytes = documents::bytes(conn, &document)?;
            Ok((document, bytes))
        })
        .await?;
    Ok(HttpResponse::Ok()
        .content_type(document.media_type.as_str())
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{}\"", document.file_name),
        ))
        .insert_header((header::ETAG, format!("\"{}\"", document.sha256)))
        .body(bytes))
}
