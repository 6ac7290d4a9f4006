//! The mails, newest first.

use actix_web::HttpRequest;
use askama::Template;

use crate::language;
use crate::store::outbox::{self, Mail};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Mails on one page.
const ROWS: i64 = 50;

#[derive(Template)]
#[template(path = "pages/mail/list.html")]
struct List {
    chrome: Chrome,
    rows: Vec<Row>,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

struct Row {
    id: i64,
    when: String,
    to: String,
    subject: String,
    stands: String,
}

/// Lists the mails.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let before: Option<i64> = asked.text("before").parse().ok();
    let mails = context
        .read(move |conn, _| outbox::list(conn, before, ROWS))
        .await?;
    let full = i64::try_from(mails.len()).is_ok_and(|count| count == ROWS);
    let next = mails
        .last()
        .filter(|_| full)
        .map(|last| format!("/mail?before={}", last.id));
    respond::page(&List {
        chrome: Chrome::new(&context, &request, "Mail"),
        shown: language::count(mails.len(), "mail on this page", "mails on this page"),
        rows: mails.iter().map(|mail| row(mail, &context)).collect(),
        first: before.map(|_| "/mail".to_owned()),
        next,
    })
}

fn row(mail: &Mail, context: &Context) -> Row {
    Row {
        id: mail.id,
        when: format!(
            "{}, {} UTC",
            language::day(mail.created_at.date(), context.today()),
            mail.created_at.format("%H:%M")
        ),
        to: mail.to_address.clone(),
        subject: mail.subject.clone(),
        stands: stands(mail),
    }
}

/// Where a mail stands, in words.
pub(super) fn stands(mail: &Mail) -> String {
    match (mail.status.as_str(), mail.sent_at) {
        ("sent", Some(at)) => format!("sent {} UTC", at.format("%H:%M")),
        ("failed", _) => format!("not sent: {}", mail.last_error),
        ("sending", _) => "being sent".to_owned(),
        _ if mail.attempts == 0 => "waits to be sent".to_owned(),
        _ => format!(
            "tried {}, tries again: {}",
            language::count(usize::try_from(mail.attempts).unwrap_or(0), "time", "times"),
            mail.last_error
        ),
    }
}
