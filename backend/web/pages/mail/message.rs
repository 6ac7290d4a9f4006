//! One mail as its reader gets it in text.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::list;
use crate::store::outbox;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/mail/message.html")]
struct Message {
    chrome: Chrome,
    to: String,
    subject: String,
    stands: String,
    text: String,
}

/// Shows a mail; a one-time link stays sealed.
///
/// # Errors
/// When there is none.
pub async fn show(context: Context, request: HttpRequest, id: web::Path<i64>) -> PageResult {
    let mail = context.read(move |conn, _| outbox::find(conn, *id)).await?;
    respond::page(&Message {
        chrome: Chrome::new(&context, &request, "Mail"),
        stands: list::stands(&mail),
        to: mail.to_address,
        subject: mail.subject,
        text: mail
            .text
            .replace(outbox::LINK_PLACE, "(the link is only in the mail itself)"),
    })
}
