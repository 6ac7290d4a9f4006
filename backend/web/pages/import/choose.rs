//! Chooses the files of a fleet. They are kept until they are confirmed; nothing of the fleet changes here.

use actix_multipart::Multipart;
use actix_web::HttpRequest;
use askama::Template;

use crate::actions::stage_import;
use crate::domain::trade::{FixtureKind, PartKind};
use crate::error::{Error, FieldError};
use crate::exchange::csv::Column;
use crate::exchange::csv::fleet::columns::documented;
use crate::exchange::csv::fleet::source::Given;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::{respond, upload};

/// Most that is taken at once, bytes.
const LIMIT: usize = 32 << 20;

#[derive(Template)]
#[template(path = "pages/import/choose.html")]
struct Choose {
    chrome: Chrome,
    errors: Vec<FieldError>,
    columns: Vec<Column>,
    kinds: Vec<Choice>,
    parts: Vec<Choice>,
    hint: String,
}

impl Choose {
    fn new(context: &Context, request: &HttpRequest, errors: Vec<FieldError>) -> Self {
        Self {
            chrome: Chrome::new(context, request, "Import a fleet"),
            errors,
            columns: documented(),
            kinds: Choice::every(FixtureKind::name),
            parts: Choice::every(PartKind::name),
            hint: format!(
                "One CSV with a row for each fixture, or the files of an exported folder together. At most {} MB.",
                LIMIT >> 20
            ),
        }
    }
}

/// Shows the form, and what each column means.
///
/// # Errors
/// When the page can't be rendered.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    respond::page(&Choose::new(&context, &request, Vec::new()))
}

/// Keeps the files and goes on to what they would do.
///
/// # Errors
/// When the form is from an earlier sign-in or can't be read, or the database refuses.
pub async fn submit(context: Context, request: HttpRequest, form: Multipart) -> PageResult {
    let sent = match upload::read(form, &context, LIMIT).await {
        Ok(sent) => sent,
        Err(Error::Fields(errors)) => return respond::form_again(&Choose::new(&context, &request, errors)),
        Err(other) => return Err(other.into()),
    };
    let files: Vec<Given> = sent
        .into_iter()
        .map(|file| Given {
            name: file.name,
            bytes: file.bytes,
        })
        .collect();
    let session = context.session.id;
    let staged = context
        .act(move |db, actor, now| stage_import::stage(db, actor, now, session, &files))
        .await;
    match staged {
        Ok(upload) => Ok(respond::redirect(&format!("/import/{upload}"))),
        Err(Error::Fields(errors)) => respond::form_again(&Choose::new(&context, &request, errors)),
        Err(other) => Err(other.into()),
    }
}
