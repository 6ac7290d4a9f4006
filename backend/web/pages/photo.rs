//! A photo as it was kept. Nothing in it can run: it was written anew, and the browser is told to treat it as a picture alone.

use actix_web::http::header;
use actix_web::{HttpResponse, web};

use crate::actions::phone::photos;
use crate::web::context::Context;
use crate::web::error::PageResult;

/// Sends it.
///
/// # Errors
/// When there is none in sight, or it is still to come.
pub async fn show(context: Context, photo: web::Path<i64>) -> PageResult {
    let (photo, bytes) = context
        .read(move |conn, actor| photos::show(conn, &actor.scope, *photo))
        .await?;
    Ok(HttpResponse::Ok()
        .content_type("image/jpeg")
        .insert_header((header::CONTENT_SECURITY_POLICY, "default-src 'none'; sandbox"))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::CONTENT_DISPOSITION, "inline; filename=\"photo.jpg\""))
        .insert_header((header::ETAG, format!("\"{}\"", photo.sha256)))
        .body(bytes))
}
