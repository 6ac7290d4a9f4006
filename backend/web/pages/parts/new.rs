//! Adds a part to a fixture.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::add_part;
use crate::domain::code::Coded as _;
use crate::domain::register::{FixtureId, Part, Service};
use crate::domain::trade::PartKind;
use crate::error::FieldError;
use crate::language::Language;
use crate::store::{fixtures, parts};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form.
///
/// # Errors
/// When there is no such fixture.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let blank = (Fields::default(), Vec::new());
    respond::page(&page(&context, &request, FixtureId(*key), blank).await?)
}

/// Adds what was typed.
///
/// # Errors
/// When there is no such fixture.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let (id, typed) = (FixtureId(*key), form::read(&form));
    match context
        .act(move |db, actor, now| add_part::add(db, actor, now, id, &typed))
        .await
    {
        Ok(_) => Ok(respond::redirect_saying(
            &format!("/fixtures/{id}#parts"),
            &context.say("part-added").to_string(),
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            respond::form_again(&page(&context, &request, id, again).await?)
        }
    }
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    id: FixtureId,
    typed: (Fields, Vec<FieldError>),
) -> Result<Page, PageError> {
    let (placed, there) = context
        .read(move |conn, actor| {
            let placed = fixtures::by_key(conn, &actor.scope, id)?;
            Ok((placed, parts::of_fixture(conn, id)?))
        })
        .await?;
    let heading = context.say("part-add-to").with("tag", &placed.tag.label);
    let chrome = Chrome::new(context, request, &heading.to_string());
    let kinds = missing(context.language(), &there);
    Ok(Page::new(chrome, "part-add", &placed, kinds, typed))
}

/// The kinds of part that the fixture has none of.
fn missing(language: Language, there: &[Part]) -> Vec<Choice> {
    let is_there = |kind: PartKind| {
        there
            .iter()
            .any(|part| part.facts.kind == kind && part.status == Service::InService)
    };
    PartKind::ALL
        .iter()
        .filter(|kind| !is_there(**kind))
        .map(|kind| Choice::new(kind.code(), language.word(*kind)))
        .collect()
}
