//! Changes a public holiday or a shut-down period of a building.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::closing::{self, Offers};
use crate::actions::calendars::change_closing;
use crate::domain::due::Closing;
use crate::domain::register::{Building, ClosingId};
use crate::error::FieldError;
use crate::language;
use crate::store::{buildings, calendars};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/calendars/edit.html")]
struct EditPage {
    chrome: Chrome,
    code: String,
    name: String,
    home: String,
    offers: Offers,
    fields: Fields,
    errors: Vec<FieldError>,
}

impl EditPage {
    fn new(
        (context, request): (&Context, &HttpRequest),
        building: &Building,
        closing: &Closing,
        (fields, errors): (Fields, Vec<FieldError>),
    ) -> Self {
        Self {
            chrome: Chrome::new(context, request, &format!("Change {}", closing.name)),
            code: building.facts.code.clone(),
            name: building.facts.name.clone(),
            home: super::home(building),
            offers: closing::offers(),
            fields,
            errors,
        }
    }
}

/// Shows the form with the closed days as they are.
///
/// # Errors
/// When there is no such building, or it has no such closed days.
pub async fn show(context: Context, request: HttpRequest, path: web::Path<(String, String)>) -> PageResult {
    let (building, _, closing) = find(&context, path.into_inner()).await?;
    let as_it_is = (closing::fields_of(&closing), Vec::new());
    respond::page(&EditPage::new(
        (&context, &request),
        &building,
        &closing,
        as_it_is,
    ))
}

/// Changes them to what was typed.
///
/// # Errors
/// When there is no such building, or it has no such closed days.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    path: web::Path<(String, String)>,
    form: Form,
) -> PageResult {
    let (building, key, closing) = find(&context, path.into_inner()).await?;
    let (id, text) = (building.id, closing::read(&form));
    let name = text.name.trim().to_owned();
    let done = context
        .act(move |db, actor, now| change_closing(db, actor, now, id, key, &text))
        .await;
    match done {
        Ok(moved) => Ok(respond::redirect_saying(
            &super::home(&building),
            &format!("{name} is saved. {}", language::due_dates_moved(moved)),
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            respond::form_again(&EditPage::new((&context, &request), &building, &closing, again))
        }
    }
}

async fn find(
    context: &Context,
    (code, closing): (String, String),
) -> Result<(Building, ClosingId, Closing), PageError> {
    let key = closing::key(&closing)?;
    let found = context.read(move |conn, actor| {
        let building = buildings::by_code(conn, &actor.scope, &code)?;
        let closing = calendars::closing_of(conn, building.id, key)?;
        Ok((building, key, closing))
    });
    Ok(found.await?)
}
